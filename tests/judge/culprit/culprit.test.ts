import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { culpritOf } from "../../../src/judge/culprit/culprit.js";
import { servesWith } from "../../../src/judge/culprit/serving-value.js";
import { servingOf, type WantedStretch } from "../../../src/judge/replay/acting.js";
import { isAtom } from "../../../src/judge/rule/condition.js";
import type { Culprit } from "../../../src/result/culprit.js";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { accountsOf, allOf, anyOf, bookOf, is, min, no, over, quorum, ruleOf, siteOf, turned, type Told } from "../small-site.js";

const site = siteOf({
  subjects: { "bay-1": "bay", "bay-2": "bay", mira: "person", tom: "person", door: "door" },
  signals: { "overhead-1": "bay-1", "wall-1": "bay-1", "overhead-2": "bay-2", "wall-2": "bay-2", "phone-mira": "mira", "phone-tom": "tom", rail: "door" },
  limits: { unlock: { wrongPerYear: 1, missedShare: 0.1, withinMs: min(2) }, lock: { wrongPerYear: 1, missedShare: 0.1, withinMs: min(15) } },
});

/** A vehicle and a person, by the meters of one bay and a phone. */
const bay = (n: 1 | 2, within = 2): Expression => allOf(turned(`overhead-${n}`, 1, within), is(`wall-${n}`, 1));
const arrival = allOf(anyOf(bay(1), bay(2)), is("rail", 1, { recentlyMs: min(3) }), anyOf(turned("phone-mira", 1, 10), turned("phone-tom", 1, 10)));
const arrivalReversed = allOf(anyOf(turned("phone-tom", 1, 10), turned("phone-mira", 1, 10)), is("rail", 1, { recentlyMs: min(3) }), anyOf(bay(2), bay(1)));
const wanted: Expression = allOf(anyOf(turned("mira", 1, 15), turned("tom", 1, 15)), anyOf(turned("bay-1", 1, 3), turned("bay-2", 1, 3)));

type Lines = Readonly<Record<string, string>>;
const quiet: Lines = { "overhead-1": "0 off", "wall-1": "0 off", "overhead-2": "0 off", "wall-2": "0 off", "phone-mira": "0 off", "phone-tom": "0 off", rail: "0 off" };
const nobodyMoves: Readonly<Record<string, Told>> = Object.fromEntries(["bay-1", "bay-2", "mira", "tom", "door"].map((subject) => [subject, { truth: "0 off" }]));

function failed(when: Expression, lines: Lines, told: Readonly<Record<string, Told>>, more: Partial<RuleSpec> = {}): { rule: ReturnType<typeof over>; stretch: WantedStretch; culprit: Culprit } {
  const rule = over(site, ruleOf(when, wanted, more), accountsOf({ ...quiet, ...lines }), bookOf({ ...nobodyMoves, ...told }));
  const stretch = rule.wanted.counted.find((one) => servingOf(one, rule.replayed, rule).outcome !== "served");
  if (stretch === undefined) throw new Error("every wanted instant was served");
  return { rule, stretch, culprit: culpritOf(stretch, rule) };
}
const culprit = (when: Expression, lines: Lines, told: Readonly<Record<string, Told>>): Culprit => failed(when, lines, told).culprit;

describe("the culprit of a wanted instant that was missed", () => {
  it("is the signal of the bay whose vehicle came, not one of the other bay that would have needed the same number of changes", () => {
    // Bay 2 is occupied all day, so its wall meter agrees: only its turn is missing. But the vehicle came to bay 1.
    const lines = { "overhead-1": "0 off, 100 on", "wall-1": "0 on, 50 off", "overhead-2": "0 on", "wall-2": "0 on", "phone-mira": "0 off, 99 on", rail: "0 off, 99 on, 101 off" };
    const told = { "bay-1": { truth: "0 on, 40 off, 100 on, 400 off" }, "bay-2": { truth: "0 on" }, mira: { truth: "0 off, 99 on" } };
    expect(culprit(arrival, lines, told)).toMatchObject({
      signal: "wall-1",
      condition: "wall-1 is occupied",
      what: "said the opposite",
      from: min(100),
      to: min(400),
      bySeconds: null,
      wouldServeSeconds: null,
      signals: [],
      text: "wall-1 said empty from 02:40:00 to 07:40:00 (5 h): no longer window would have helped.",
    });
    expect(culprit(arrivalReversed, lines, told)).toEqual(culprit(arrival, lines, told));
  });

  it("is no sensor where what the rule asks for did not happen: somebody came on foot", () => {
    // Mira walks home through the yard door while the vehicle is out; or while it has stood there since morning.
    const onFoot = (bays: Lines, bayTruth: string): Culprit => {
      const people: Expression = anyOf(turned("mira", 1, 15), turned("tom", 1, 15));
      const lines = { ...quiet, "phone-mira": "0 off, 99 on", rail: "0 off, 99 on, 101 off", ...bays };
      const rule = over(site, ruleOf(arrival, people), accountsOf(lines), bookOf({ ...nobodyMoves, "bay-1": { truth: bayTruth }, mira: { truth: "0 off, 99 on" } }));
      return culpritOf(rule.wanted.counted[0]!, rule);
    };
    expect(onFoot({}, "0 off")).toMatchObject({ signal: null, what: "did not happen", signals: [] });
    expect(onFoot({}, "0 off").text).toMatch(/^bay-\d did not turn occupied then: it was empty all the time\. No sensor is to blame; the rule asks for more than happened\.$/u);
    const stood = { "overhead-1": "0 off, 20 on", "wall-1": "0 off, 20 on" };
    expect(onFoot(stood, "0 off, 20 on")).toMatchObject({ signal: null, what: "did not happen" });
    // A vehicle that comes an hour later by itself is not the meter's lateness.
    expect(onFoot({ "overhead-1": "0 off, 150 on", "wall-1": "0 off, 150 on" }, "0 off, 150 on")).toMatchObject({ signal: null, what: "did not happen" });
    // The vehicle did come, and both meters slept: that is theirs.
    expect(onFoot({}, "0 off, 98.5 on")).toMatchObject({ what: "said the opposite" });
    // Where nobody can tell whether one came, the meter is looked at.
    expect(onFoot({}, "0 ?")).toMatchObject({ what: "said the opposite" });
  });

  it("is the phone of the person who came, not that of one who came twelve minutes before", () => {
    const lines = {
      "overhead-1": "0 off, 88.5 on", "wall-1": "0 off, 88.5 on", "overhead-2": "0 off, 100.4 on", "wall-2": "0 off, 100.4 on",
      "phone-mira": "0 off, 88 on", "phone-tom": "0 off, 121 on", rail: "0 off, 88 on, 89 off, 99.5 on, 102 off",
    };
    const told = { "bay-1": { truth: "0 off, 88.2 on" }, "bay-2": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 88 on" }, tom: { truth: "0 off, 99.5 on" } };
    expect(culprit(arrival, lines, told)).toMatchObject({ signal: "phone-tom", what: "too late", from: min(121), bySeconds: 19 * 60, wouldServeSeconds: null });
  });

  it("is no phone that told at once when its owner came, last of all, but the windows that had ended by then", () => {
    // Mira comes four minutes after the vehicle, and her phone says so in that second; the meter's window and the door's are over.
    const lines = { "overhead-1": "0 off, 100 on", "wall-1": "0 off, 100 on", "phone-mira": "0 off, 104 on", rail: "0 off, 99 on, 101 off" };
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 104 on" }, door: { truth: "0 off, 99 on, 101 off" } };
    const slow = allOf(turned("mira", 1, 15), turned("bay-1", 1, 15));
    const rule = over(site, ruleOf(arrival, slow), accountsOf({ ...quiet, ...lines }), bookOf({ ...nobodyMoves, ...told }));
    expect(culpritOf(rule.wanted.counted[0]!, rule)).toMatchObject({
      signal: "overhead-1",
      what: "window ended",
      text: "The 2 min window of overhead-1 ended 2 min before phone-mira turned here: a longer one alone would not have helped. Also in the way: rail.",
    });
    // Where she came with the vehicle, and only her phone took so long, it is the phone.
    const late = over(site, ruleOf(arrival, slow), accountsOf({ ...quiet, ...lines }), bookOf({ ...nobodyMoves, ...told, mira: { truth: "0 off, 100 on" } }));
    expect(culpritOf(late.wanted.counted[0]!, late)).toMatchObject({ signal: "phone-mira", what: "too late" });
  });

  it("is the window that ended before the last one came, and tells the length that would have served", () => {
    const lines = { "overhead-1": "0 off, 100 on", "wall-1": "0 off, 100 on", "phone-mira": "0 off, 101.6 on", rail: "0 off, 99 on, 101 off" };
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
    const when = allOf(bay(1, 1.5), turned("phone-mira", 1, 10));
    expect(culprit(when, lines, told)).toMatchObject({
      signal: "overhead-1",
      what: "window ended",
      bySeconds: 6,
      wouldServeSeconds: 120,
      text: "The 1 min 30 s window of overhead-1 ended 6 s before phone-mira turned here: 2 min would have been enough.",
    });
  });

  it("is the door that closed before the phone came", () => {
    const lines = { "phone-mira": "0 off, 101 on", "overhead-1": "0 off, 100 on", rail: "0 off, 99 on, 100.8 off" };
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" }, door: { truth: "0 off, 99 on, 100.8 off" } };
    expect(culprit(allOf(is("rail", 1), turned("phone-mira", 1, 10)), lines, told)).toMatchObject({ signal: "rail", what: "no longer so", bySeconds: 12, wouldServeSeconds: 15, text: `rail had stopped saying open 12 s before phone-mira turned here: “recently: 15 s” would have been enough.` });
  });

  it("is silent, or had been so before", () => {
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
    const when = allOf(turned("overhead-1", 1, 2), turned("phone-mira", 1, 10));
    expect(culprit(when, { "overhead-1": "0 off, 100 on", "phone-mira": "0 off, 90 ?, 130 on" }, told)).toMatchObject({ signal: "phone-mira", what: "silent", from: min(90), to: min(130) });
    expect(culprit(when, { "overhead-1": "0 off, 100 on", "phone-mira": "0 off, 20 on" }, told)).toMatchObject({
      signal: "phone-mira",
      what: "already so",
      from: min(20),
      text: "phone-mira had already said here for 1 h 20 min, so it could not turn here: no longer window would have helped.",
    });
  });

  it("names what else was in the way", () => {
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
    expect(culprit(arrival, { "overhead-1": "0 off, 100 on", rail: "0 off, 99 on" }, told)).toMatchObject({ signal: "phone-mira", signals: ["wall-1"] });
  });

  it("is nobody where the condition had been true all along", () => {
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
    expect(culprit(is("rail", 1), { rail: "0 off, 50 on" }, told)).toMatchObject({ signal: null, what: "already true" });
  });
});

describe("the culprit of a locking that came too late", () => {
  it("is the hold that was too long, with one that would have served", () => {
    const away = allOf(is("mira", 0), is("tom", 0));
    const rule = over(site, ruleOf(allOf(is("phone-mira", 0, { heldMs: min(5) }), is("phone-tom", 0)), away, { act: "lock" }), accountsOf({ ...quiet, "phone-mira": "0 on, 110.5 off", "phone-tom": "0 off" }), bookOf({ ...nobodyMoves, mira: { truth: "0 on, 100 off" } }));
    const [stretch] = rule.wanted.counted;
    expect(stretch && culpritOf(stretch, rule)).toMatchObject({ signal: "phone-mira", what: "held too long", bySeconds: 30, wouldServeSeconds: 240 });
  });
});

describe("a value that would have served", () => {
  const minute = fc.integer({ min: 960, max: 1060 }).map((tenths) => tenths / 10);
  it("does serve when the rule is replayed with it, and is never the value there was", () => {
    fc.assert(
      fc.property(minute, minute, minute, fc.integer({ min: 1, max: 4 }), (overhead, wall, phone, within) => {
        const lines = { "overhead-1": `0 off, ${overhead} on`, "wall-1": `0 off, ${wall} on`, "phone-mira": `0 off, ${phone} on` };
        const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
        const rule = over(site, ruleOf(allOf(bay(1, within), turned("phone-mira", 1, 1)), wanted), accountsOf({ ...quiet, ...lines }), bookOf({ ...nobodyMoves, ...told }));
        for (const stretch of rule.wanted.counted) {
          if (servingOf(stretch, rule.replayed, rule).outcome === "served") continue;
          const found = culpritOf(stretch, rule);
          if (found.wouldServeSeconds === null) continue;
          const atom = [...rule.replayed.parts.keys()].filter(isAtom).find((one) => one.ref === found.signal);
          expect(atom !== undefined && servesWith(rule, stretch, atom, { withinMs: found.wouldServeSeconds * 1000 })).toBe(true);
        }
      }),
    );
  });
});

describe("any rule that missed", () => {
  const atom = fc.oneof(
    fc.tuple(fc.constantFrom("overhead-1", "wall-1", "phone-mira", "phone-tom", "rail"), fc.constantFrom<0 | 1>(0, 1)).map(([ref, state]) => is(ref, state)),
    fc.tuple(fc.constantFrom("overhead-1", "phone-mira", "phone-tom"), fc.constantFrom<0 | 1>(0, 1), fc.integer({ min: 1, max: 10 })).map(([ref, to, within]) => turned(ref, to, within)),
  );
  const { whole } = fc.letrec<{ whole: Expression }>((tie) => ({
    whole: fc.oneof(
      { maxDepth: 3 },
      atom,
      fc.array(tie("whole"), { minLength: 1, maxLength: 3 }).map((of) => allOf(...of)),
      fc.array(tie("whole"), { minLength: 1, maxLength: 3 }).map((of) => anyOf(...of)),
      fc.array(tie("whole"), { minLength: 2, maxLength: 3 }).map((of) => quorum(2, ...of)),
      tie("whole").map(no),
    ),
  }));
  const reversed = (part: Expression): Expression => (isAtom(part) ? part : part.op === "not" ? no(reversed(part.of)) : { ...part, of: part.of.map(reversed).reverse() });
  const walk = fc.array(fc.tuple(fc.integer({ min: 90, max: 110 }), fc.constantFrom("on", "off", "?")), { maxLength: 4 }).map((steps) => ["0 off", ...steps.toSorted((a, b) => a[0] - b[0]).map(([at, state]) => `${at} ${state}`)].join(", "));

  it("gets a culprit, however its condition is nested, and the same in whatever order it is written", () => {
    const told = { "bay-1": { truth: "0 off, 100 on" }, mira: { truth: "0 off, 99.5 on" } };
    fc.assert(
      fc.property(whole, walk, walk, walk, (when, overhead, phone, rail) => {
        const lines = { ...quiet, "overhead-1": overhead, "phone-mira": phone, rail };
        const culpritsOf = (condition: Expression): Culprit[] => {
          const rule = over(site, ruleOf(condition, wanted), accountsOf(lines), bookOf({ ...nobodyMoves, ...told }));
          return rule.wanted.counted.filter((one) => servingOf(one, rule.replayed, rule).outcome !== "served").map((one) => culpritOf(one, rule));
        };
        const found = culpritsOf(when);
        expect(culpritsOf(reversed(when))).toEqual(found);
        for (const one of found) expect(one.text).toMatch(/\.$/);
      }),
      { numRuns: 300 },
    );
  });
});
