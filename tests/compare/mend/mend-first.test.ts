import { describe, expect, it } from "vitest";
import { mendFirst, type MendInput } from "../../../src/compare/mend/mend-first.js";
import type { Culprit } from "../../../src/result/culprit.js";
import { exampleFindings } from "../../report/example-findings.js";

const culprit = (signal: string, what: Culprit["what"]): Culprit => ({ signal, condition: "", what, from: null, to: null, bySeconds: null, wouldServeSeconds: null, signals: [], text: "" });

/** The example's own figures, with every culprit, false report and clock taken out. */
const sound: MendInput = {
  ...exampleFindings,
  phantoms: [],
  clocks: [],
  rules: exampleFindings.rules.map((rule) => ({
    ...rule,
    firingList: rule.firingList.map((one) => ({ ...one, culprit: null })),
    wantedList: rule.wantedList.map((one) => ({ ...one, culprit: null })),
  })),
};
const [rule] = sound.rules;
if (rule === undefined) throw new Error("the example has a rule");
const [first, second] = rule.signals;
if (first === undefined || second === undefined) throw new Error("its rule has two signals");

const [someFiring] = rule.firingList;
const withCulprits = (wrong: readonly Culprit[], failed: readonly Culprit[]): MendInput => ({
  ...sound,
  bands: [],
  rules: [
    {
      ...rule,
      firingList: wrong.flatMap((one) => (someFiring === undefined ? [] : [{ ...someFiring, outcome: "wrong" as const, culprit: one }])),
      wantedList: failed.map((one, i) => ({ at: i, outcome: "missed" as const, verified: true, firing: null, delaySeconds: null, why: "", culprit: one })),
    },
  ],
});

describe("what to mend first", () => {
  it("is nothing where nothing did anything to a rule, whatever the scores", () => {
    expect(mendFirst(sound)).toEqual([]);
  });

  it("is the signal with the gravest consequence", () => {
    const list = mendFirst(withCulprits([culprit(second, "came back")], [culprit(first, "said the opposite"), culprit(first, "silent")]));
    expect(list.map(({ target, weight }) => [target, weight])).toEqual([[second, 10], [first, 2]]);
    expect(list[1]).toMatchObject({ what: "signal", text: `Mend ${first}.`, rules: [{ rule: rule.name, failed: 2 }] });
  });

  it("is no sensor where the rule's own window was too short, nor one that was late once", () => {
    expect(mendFirst(withCulprits([], [culprit(first, "window ended"), culprit(first, "held too long"), culprit(second, "too late")]))).toEqual([]);
    expect(mendFirst(withCulprits([], [1, 2, 3].map(() => culprit(second, "too late"))))).toMatchObject([{ target: second, weight: 3 }]);
  });
});
