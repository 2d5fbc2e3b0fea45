import { describe, expect, it } from "vitest";
import { worstScene } from "../../src/decide/worst.js";
import { stepsText } from "../../src/result/history-steps.js";
import type { Culprit } from "../../src/result/culprit.js";
import type { Undecided } from "../../src/result/findings.js";
import type { RuleFinding } from "../../src/result/rules.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { exampleFindings } from "../report/example-findings.js";

const from = Date.parse("2026-10-01T00:00:00.000Z");
const MINUTE = 60_000;
const at = (minutes: number): number => from + minutes * MINUTE;
const days = 2 * 24 * 60;
const said = (...changes: (readonly [number, 0 | 1 | 2])[]): string => stepsText(canonicalTimeline(at(0), at(days), changes.map(([minute]) => at(minute)), changes.map(([, state]) => state)));

/** Sam sleeps at home; at two in the night the phone drops out for a quarter of an hour, and at noon for a minute. */
const findings: Undecided = {
  ...exampleFindings,
  site: { ...exampleFindings.site, timeZone: "UTC", subjects: [{ id: "sam", class: "person", vehicle: null }, { id: "gate", class: "door", vehicle: null }] },
  period: { from, to: at(days), days: 2, label: "2026-10" },
  histories: {
    signals: [
      { signal: "phone-sam", subject: "sam", steps: said([0, 1], [120, 0], [135, 1], [720, 0], [721, 1]) },
      { signal: "gate-contact", subject: "gate", steps: said([0, 0]) },
    ],
    subjects: [{ subject: "sam", steps: said([0, 1]) }, { subject: "gate", steps: said([0, 0]) }],
    rules: [],
  },
};
const culprit = (begins: number, ends: number): Culprit => ({ signal: "phone-sam", condition: "", what: "came back", from: at(begins), to: at(ends), bySeconds: null, wouldServeSeconds: null, signals: [], text: "phone-sam had dropped out." });
const wrong = (minute: number, id: string, blamed: Culprit | null): RuleFinding["firingList"][number] => ({ ...exampleFindings.rules[0]!.firingList[0]!, id, at: at(minute), outcome: "wrong", culprit: blamed });
const rule: RuleFinding = { ...exampleFindings.rules[0]!, act: "unlock", signals: ["gate-contact", "phone-sam"], firingList: [wrong(721, "noon", culprit(720, 721)), wrong(135, "night", culprit(120, 135))], wantedList: [] };

describe("the worst moment of a rule", () => {
  const scene = worstScene(rule, findings);

  it("is at night, where somebody is to blame", () => {
    expect(scene).toMatchObject({ sort: "wrong", firing: "night", at: at(135), title: "unlocks, and nobody came", effect: "unlocks" });
  });

  it("is shown from the beginning of the false report to its end, with a fifth of that around it", () => {
    expect([scene!.from, scene!.to]).toEqual([at(117), at(138)]);
  });

  it("has what was true, the culprit with its cause, and the rule; a sensor that did nothing is left out", () => {
    expect(scene!.lanes.map(({ label, role }) => `${label}: ${role}`)).toEqual(["sam: truth", "phone-sam: culprit", "the rule: rule"]);
    expect(scene!.cause).toEqual({ lane: 1, from: at(120), to: at(135), text: "drops out for 15 min" });
    expect(scene!.lanes[1]!.steps).toEqual([[at(117), "on"], [at(120), "off"], [at(135), "on"]]);
  });

  it("is a missed act where none was wrong, and what is told of it is why", () => {
    const missed: RuleFinding["wantedList"][number] = { at: at(700), outcome: "missed", verified: true, firing: null, delaySeconds: null, why: "the phone came too late", culprit: null };
    expect(worstScene({ ...rule, firingList: [], wantedList: [missed] }, findings)).toMatchObject({ sort: "missed", title: "somebody is left outside", effect: "stays locked", text: "the phone came too late", cause: null });
  });

  it("is none where nothing failed, and none without histories", () => {
    expect(worstScene({ ...rule, firingList: [], wantedList: [] }, findings)).toBeNull();
    expect(worstScene(rule, { ...findings, histories: null })).toBeNull();
  });
});
