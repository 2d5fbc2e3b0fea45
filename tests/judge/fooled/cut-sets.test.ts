import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cutSetsOf } from "../../../src/judge/fooled/cut-sets.js";
import type { FaultRate } from "../../../src/judge/fooled/fault-rates.js";
import { lyingSets, silencingSets, singlePointsOf } from "../../../src/judge/fooled/lying-sets.js";
import { fooledContext } from "../../../src/judge/fooled/context.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import type { Site } from "../../../src/site/site.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, UNKNOWN, type TruthState } from "../../../src/timeline/timeline.js";
import { accountsOf, allOf, anyOf, bookOf, is, no, over, quorum, ruleOf, siteOf, structureOf, truthOf, turned } from "../small-site.js";
import { constantTimeline } from "../../timeline/constant-timeline.js";
import type { CutSets } from "../../../src/result/rules.js";

const site = siteOf({
  subjects: { door: "door", mira: "person" },
  signals: { rail: "door", hinge: "door", phone: "mira" },
  shares: { rail: ["board"], hinge: ["board"] },
});
const [rail, hinge, phone] = [is("rail", 1), is("hinge", 1), is("phone", 1)];
const rate = (perYear: number, missedShare = 0.1, meanMs: number | null = null): FaultRate => ({ perYear, perYearHigh: 2 * perYear, meanMs, missedShare, missedShareHigh: 2 * missedShare });
const rates = new Map([["rail", rate(10)], ["hinge", rate(20)], ["phone", rate(5)]]);

/** Firing would be wrong all day. */
function cutSets(when: Expression, histories: Readonly<Record<string, string>>, faults: ReadonlyMap<string, FaultRate> = rates, at: Site = site, truth = "0 off"): CutSets {
  const nobody = { truth, outside: truth };
  return cutSetsOf(fooledContext(over(at, ruleOf(when, is("mira", 1), { act: "lock" }), accountsOf(histories), bookOf({ mira: nobody })), faults));
}
const texts = (list: { readonly sets: readonly { readonly text: string }[] }): string[] => list.sets.map((set) => set.text);
const quiet = { rail: "0 off", hinge: "0 off", phone: "0 off" };

describe("cut sets in words", () => {
  it("name what makes a rule fire, signals and shared causes", () => {
    expect(texts(cutSets(allOf(rail, hinge, phone), quiet).firing)).toEqual(["board and phone together", "hinge, phone and rail together"]);
    expect(texts(cutSets(allOf(rail, hinge), quiet).firing)).toEqual(["board alone", "hinge and rail together"]);
  });

  it("name what keeps it from firing", () => {
    expect(texts(cutSets(allOf(anyOf(rail, hinge), phone), quiet).failing)).toEqual(["board alone", "phone alone", "hinge and rail together"]);
    expect(texts(cutSets(quorum(2, rail, hinge, phone), quiet).failing)).toEqual(["board alone", "hinge and phone together", "hinge and rail together", "phone and rail together"]);
  });

  it("name the single point that dropping one of two contacts raises", () => {
    const apart = siteOf({ subjects: { door: "door" }, signals: { rail: "door", hinge: "door" }, shares: { rail: ["board-a"], hinge: ["board-b"] } });
    expect(singlePointsOf(prepareRule(apart, ruleOf(allOf(rail, hinge), is("mira", 1))))).toEqual({ signals: [], causes: [] });
    expect(singlePointsOf(prepareRule(apart, ruleOf(rail, is("mira", 1))))).toEqual({ signals: ["rail"], causes: ["board-a"] });
    expect(texts(cutSets(rail, quiet, rates, apart).firing)).toEqual(["board-a alone", "rail alone"]);
  });
});

describe("in practice", () => {
  it("what holds anyway needs nobody to lie about it", () => {
    const { inPractice } = cutSets(allOf(rail, phone), { rail: "0 on, 1080 off", phone: "0 off" });
    expect(inPractice.wrongHours).toBe(24);
    expect(inPractice.sets.map(({ text, share, hoursPerMonth }) => [text, share, hoursPerMonth])).toEqual([
      ["phone alone", 0.75, 540],
      ["board and phone together", 0.25, 180],
      ["phone and rail together", 0.25, 180],
    ]);
  });

  it("only the time counts in which firing would have been wrong", () => {
    const when = allOf(rail, phone);
    const histories: Readonly<Record<string, string>> = { rail: "0 on", phone: "0 off" };
    const found = cutSets(when, histories, rates, site, "0 off, 360 on").inPractice;
    expect([found.wrongHours, found.sets[0]?.share, found.sets[0]?.hoursPerMonth]).toEqual([6, 1, 180]);
  });

  it("a lone liar is expected as often as it lies, times the share in which it suffices", () => {
    const { sets, expectedPerYear } = cutSets(allOf(rail, phone), { rail: "0 on, 1080 off", phone: "0 off" }).inPractice;
    expect(sets[0]?.expectedPerYear).toEqual({ value: 5 * 0.75, high: 10 * 0.75, why: null });
    expect(expectedPerYear.independent.value).toBeGreaterThan(3.75);
  });

  it("two liars must lie at once: each may be the last to begin while the other lies, for an hour where none was timed", () => {
    const { expectedPerYear } = cutSets(allOf(rail, phone), quiet).inPractice;
    const hour = 1 / (365.25 * 24);
    expect(expectedPerYear.independent.value).toBeCloseTo(2 * 10 * 5 * hour, 12);
    // rail keeps nine in ten of its lies to itself; the board lies at a tenth of the rate of its signal in the rule.
    expect(expectedPerYear.withSharedCauses.value).toBeCloseTo(2 * 5 * (9 + 1) * hour, 12);
  });

  it("a lie is believed for as long as it lasts, and at least as long as the condition looks back", () => {
    const lasting = new Map([["rail", rate(10, 0, 2 * 3_600_000)], ["phone", rate(5, 0, 1_000)]]);
    const { expectedPerYear } = cutSets(allOf(rail, turned("phone", 1, 30)), quiet, lasting).inPractice;
    expect(expectedPerYear.independent.value).toBeCloseTo((10 * 5 * (2 + 0.5)) / (365.25 * 24), 12);
  });

  it("nothing is expected where a rate is not known, and it says whose", () => {
    const { inPractice, expectedMissedShare } = cutSets(allOf(rail, phone), quiet, new Map([["rail", rate(10)]]));
    expect(inPractice.expectedPerYear.independent).toEqual({ value: null, high: null, why: "how often these report falsely is not known: phone" });
    expect(expectedMissedShare.independent).toEqual({ value: null, high: null, why: "how often these miss a change is not known: phone" });
  });
});

describe("failing to fire", () => {
  it("is expected as often as one of the failing sets misses its turn", () => {
    const { expectedMissedShare } = cutSets(allOf(anyOf(rail, hinge), phone), quiet);
    expect(expectedMissedShare.independent.value).toBeCloseTo(1 - (1 - 0.1) * (1 - 0.01), 12);
    expect(expectedMissedShare.withSharedCauses.value).toBeCloseTo(1 - (1 - 0.1) * (1 - 0.09 ** 2) * (1 - 0.01), 12);
  });
});

/** Conditions in which each signal stands once, over at most five. */
const conditions = fc
  .letrec<{ node: Expression }>((tie) => {
    const some = fc.array(tie("node"), { minLength: 1, maxLength: 3 });
    return {
      node: fc.oneof(
        { maxDepth: 3 },
        { weight: 2, arbitrary: fc.constantFrom(is("x", 0), is("x", 1)) },
        { weight: 2, arbitrary: some.map((of) => allOf(...of)) },
        { weight: 2, arbitrary: some.map((of) => anyOf(...of)) },
        { weight: 1, arbitrary: fc.tuple(some, fc.integer({ min: 1, max: 3 })).map(([of, k]) => quorum(Math.min(k, of.length), ...of)) },
        { weight: 1, arbitrary: tie("node").map(no) },
      ),
    };
  })
  .node.map((condition) => {
    let next = 0;
    const renamed = (part: Expression): Expression =>
      part.op === "is" || part.op === "turned" ? { ...part, ref: `s${next++}` } : part.op === "not" ? { ...part, of: renamed(part.of) } : { ...part, of: part.of.map(renamed) };
    return { condition: renamed(condition), names: Array.from({ length: next }, (_, i) => `s${i}`) };
  })
  .filter(({ names }) => names.length <= 5);
/** s0 and s1 share a board, s1 and s2 a hub. */
const sharesOf = (signal: string): string[] => [...(["s0", "s1"].includes(signal) ? ["board"] : []), ...(["s1", "s2"].includes(signal) ? ["hub"] : [])];

type Read = ReadonlyMap<string, TruthState>;
const holds = (condition: Expression, read: Read): boolean => stateAt(truthOf(condition, (ref) => ({ timeline: constantTimeline(0, 1, read.get(ref)!), barriers: [] })), 0) === ON;
const subsets = <T>(of: readonly T[]): T[][] => Array.from({ length: 2 ** of.length }, (_, bits) => of.filter((_, i) => (bits >> i) & 1)).sort((a, b) => a.length - b.length);
const readingsOf = (names: readonly string[]): (readonly (readonly [string, TruthState])[])[] => subsets(names).map((on) => names.map((name) => [name, on.includes(name) ? 1 : 0] as const));

/** The smallest sets of liars with the property, by trying all; `has` is told which signals they take along. */
function smallestByTrial(names: readonly string[], largest: number, has: (signals: readonly string[]) => boolean): string[] {
  const taken = new Map<string, string[]>(names.map((name) => [name, [name]]));
  for (const name of names) for (const cause of sharesOf(name)) taken.set(cause, [...(taken.get(cause) ?? []), name]);
  const found: string[][] = [];
  for (const set of subsets([...taken.keys()]).filter((one) => one.length <= largest)) {
    if (found.some((smaller) => smaller.every((one) => set.includes(one)))) continue;
    if (has([...new Set(set.flatMap((liar) => taken.get(liar)!))])) found.push(set);
  }
  return found.map((set) => set.toSorted().join("+")).sort();
}
const keys = (sets: readonly (readonly { readonly name: string }[])[]): string[] => sets.map((set) => set.map(({ name }) => name).sort().join("+")).sort();

describe("against trying every set and every reading", () => {
  it("finds the sets that make it fire though all others are silent", () => {
    fc.assert(
      fc.property(conditions, ({ condition, names }) => {
        const silent: Read = new Map(names.map((name) => [name, UNKNOWN]));
        const byTrial = smallestByTrial(names, 4, (signals) => readingsOf(signals).some((lie) => holds(condition, new Map([...silent, ...lie]))));
        expect(keys(lyingSets(structureOf(condition, sharesOf)).sets)).toEqual(byTrial);
      }),
      { numRuns: 700 },
    );
  });

  it("finds the sets whose silence keeps it from firing whatever all others read", () => {
    fc.assert(
      fc.property(conditions, ({ condition, names }) => {
        const byTrial = smallestByTrial(names, 4, (signals) => {
          const others = names.filter((name) => !signals.includes(name));
          return readingsOf(others).every((reading) => !holds(condition, new Map([...signals.map((name) => [name, UNKNOWN] as const), ...reading])));
        });
        expect(keys(silencingSets(structureOf(condition, sharesOf)).sets)).toEqual(byTrial);
      }),
      { numRuns: 700 },
    );
  });

  it("finds the sets that suffice in practice, and for how long", () => {
    const letters = fc.array(fc.array(fc.constantFrom<TruthState>(0, 1, 2), { minLength: 4, maxLength: 4 }), { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(conditions, letters, ({ condition, names }, states) => {
        // A day in four quarters.
        const words = ["off", "on", "?"];
        const histories = Object.fromEntries(names.map((name, i) => [name, states[i]!.map((state, hour) => `${hour * 360} ${words[state]!}`).join(", ")]));
        const shared = siteOf({ subjects: {}, signals: Object.fromEntries(names.map((name) => [name, "mira"])), shares: Object.fromEntries(names.map((name) => [name, sharesOf(name)])) });
        const { sets } = cutSets(condition, histories, new Map(), shared).inPractice;
        const quarters = new Map<string, number>();
        for (let quarter = 0; quarter < 4; quarter += 1) {
          const real: Read = new Map(names.map((name, i) => [name, states[i]![quarter]!]));
          if (holds(condition, real)) continue;
          for (const set of smallestByTrial(names, 2, (signals) => readingsOf(signals).some((lie) => holds(condition, new Map([...real, ...lie]))))) quarters.set(set, (quarters.get(set) ?? 0) + 1);
        }
        const found = new Map(sets.map((set) => [[...set.signals, ...set.causes].sort().join("+"), set.share * 4]));
        expect(found).toEqual(quarters);
      }),
      { numRuns: 700 },
    );
  });
});
