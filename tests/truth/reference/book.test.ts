import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { referenceModels } from "../../../src/truth/reference/models.js";
import { PRIOR_ERROR_SHARE } from "../../../src/truth/reference/priors.js";
import type { Reference } from "../../../src/truth/reference/reference.js";
import { causeGroups } from "../../../src/site/cause-groups.js";
import { signalAccounts } from "../../../src/truth/signals/accounts.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { turned } from "../../../src/timeline/turned.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { every, readingsMap, signal, siteOf, SECOND } from "../signals/small-site.js";
import { inMinutes, MINUTE, smallSite, wrote, type SmallSignal, type Steps } from "./small-witnesses.js";

const LENGTH = 600;
const period = { from: 0, to: LENGTH * MINUTE };
const line = (...steps: Steps) => inMinutes(LENGTH, steps);

function bookOf(signals: Readonly<Record<string, SmallSignal>>, diary: readonly DiaryEntry[] = []) {
  const { site, accounts } = smallSite(signals);
  return makeReferenceBook(site, accounts, diary, period);
}

/** `[from in minutes, state, basis, vouchers]` of each segment. */
function told({ segments }: Reference): [number, number, string, string][] {
  return segments.map(({ from, state, basis, vouchers }) => [from / MINUTE, state, basis, vouchers.join("+")]);
}

describe("a reference", () => {
  test("places a transition at the median of the witnesses' changes, vouched for by all of them", () => {
    const book = bookOf({
      a: { on: "bay-1", account: line([0, 0], [100, 1], [300, 0]) },
      b: { on: "bay-1", account: line([0, 0], [101, 1], [301, 0]) },
      c: { on: "bay-1", account: line([0, 0], [104, 1], [300, 0]) },
    });
    expect(told(book("bay-1", []))).toEqual([[0, 0, "several", "a+b+c"], [101, 1, "several", "a+b+c"], [300, 0, "several", "a+b+c"]]);
  });

  test("of two witnesses that contradict each other, with nothing else to decide, is unknown", () => {
    const book = bookOf({ a: { on: "bay-1", account: line([0, 0], [100, 1], [300, 0]) }, b: { on: "bay-1", account: line([0, 0]) } });
    expect(told(book("bay-1", []))).toEqual([[0, 0, "several", "a+b"], [100, 2, "none", ""], [300, 0, "several", "a+b"]]);
  });

  test("of two that differ is, without the one, what the other says: one witness, believed no more than its reliability allows", () => {
    // Eleven openings that both see, with a bay's meter moving each time, and one that only the rail claims, with the meter moving too.
    const openings = Array.from({ length: 12 }, (_, i) => 20 + i * 45);
    const rail: Steps = [[0, 0], ...openings.flatMap((at): Steps => [[at, 1], [at + 10, 0]])];
    const hinge = rail.filter(([at]) => at < openings[6]! || at > openings[6]! + 10);
    const meter: Steps = [[0, 0], ...openings.flatMap((at): Steps => [[at, 1], [at + 10, 0]])];
    const book = bookOf({ rail: { on: "door-1", account: line(...rail) }, hinge: { on: "door-1", account: line(...hinge) }, meter: { on: "bay-1", account: line(...meter) } });
    for (const [left, other] of [["rail", "hinge"], ["hinge", "rail"]] as const) {
      for (const { basis, vouchers, probability } of book("door-1", [left]).segments) {
        expect([basis, vouchers]).toEqual(["one", [other]]);
        expect(probability).toBeCloseTo(1 - PRIOR_ERROR_SHARE, 12);
      }
    }
    const disputed = book("door-1", []).segments.find(({ from, to }) => from <= (openings[6]! + 5) * MINUTE && to > (openings[6]! + 5) * MINUTE)!;
    expect(disputed).toMatchObject({ state: 1, basis: "one", vouchers: ["rail"] });
    expect(disputed.probability).toBeLessThan(0.99);
  });

  test("of three is what two of them say against the third, who does not vouch", () => {
    const book = bookOf({ a: { on: "bay-1", account: line([0, 0], [100, 1], [300, 0]) }, b: { on: "bay-1", account: line([0, 0]) }, c: { on: "bay-1", account: line([0, 0]) } });
    expect(told(book("bay-1", []))).toEqual([[0, 0, "several", "a+b+c"], [100, 0, "several", "b+c"], [300, 0, "several", "a+b+c"]]);
  });

  test("of one witness is what it says, unverified, and unknown while it is dark", () => {
    const { segments } = bookOf({ a: { on: "bay-1", account: line([0, 0], [100, 1], [200, 2], [250, 1], [300, 0]) } })("bay-1", []);
    expect(segments.map(({ from, state, basis }) => [from / MINUTE, state, basis])).toEqual([[0, 0, "one"], [100, 1, "one"], [200, 2, "none"], [250, 1, "one"], [300, 0, "one"]]);
    expect(segments[0]!.probability).toBeCloseTo(1 - PRIOR_ERROR_SHARE, 6);
  });

  test("is the diary where something was written, to the instant, and teaches nothing about the rest of a segment", () => {
    const book = bookOf({ a: { on: "bay-1", account: line([0, 0], [100, 1], [300, 0]) } }, [wrote("bay-1", 0, 150, 160)]);
    expect(told(book("bay-1", []))).toEqual([[0, 0, "one", "a"], [100, 1, "one", "a"], [150, 0, "diary", ""], [160, 1, "one", "a"], [300, 0, "one", "a"]]);
  });

  test("without any signal is the diary, and unknown where nothing was written", () => {
    const book = bookOf({ a: { on: "bay-1", account: line([0, 0], [100, 1]) } }, [wrote("bay-1", 0, 40, 45)]);
    expect(told(book("bay-1", ["a"]))).toEqual([[0, 2, "none", ""], [40, 0, "diary", ""], [45, 2, "none", ""]]);
  });

  test("is remembered by subject and excluded signals, in whatever order and however often named", () => {
    const book = bookOf({ a: { on: "bay-1", account: line([0, 0]) }, b: { on: "bay-1", account: line([0, 0]) } });
    expect(book("bay-1", ["a", "b", "a"])).toBe(book("bay-1", ["b", "a"]));
    expect(book("bay-1", ["a"])).not.toBe(book("bay-1", []));
  });

  test("of a subject that the site does not have, or from an account over another period, cannot be given", () => {
    expect(() => bookOf({})("attic", [])).toThrow("No subject of the site is called attic.");
    const strange = bookOf({ a: { on: "bay-1", account: inMinutes(30, [[0, 0]]) } });
    expect(() => strange("bay-1", [])).toThrow("does not fit the period");
  });
});

describe("movements nearby", () => {
  // Visits of half an hour, each with the door moving at both ends, seen by both meters; then one that only `a` claims.
  const visits = Array.from({ length: 15 }, (_, i) => 10 + i * 38);
  const bay: Steps = [[0, 0], ...visits.flatMap((at): Steps => [[at, 1], [at + 19, 0]])];
  const door: Steps = [[0, 0], ...visits.flatMap((at): Steps => [[at, 1], [at + 1, 0], [at + 18, 1], [at + 19, 0]])];
  const claimed = visits[9]!;
  const quiet = (steps: Steps): Steps => steps.filter(([minute]) => minute < claimed || minute > claimed + 19);
  const signals = (doorShares: readonly string[]): Record<string, SmallSignal> => ({
    a: { on: "bay-1", shares: ["board"], account: line(...bay) },
    b: { on: "bay-1", account: line(...quiet(bay)) },
    rail: { on: "door-1", shares: doorShares, account: line(...quiet(door)) },
  });

  test("decide between two witnesses that differ: no door moved, so nobody came", () => {
    const at = bookOf(signals([]))("bay-1", []).segments.find((one) => one.from <= (claimed + 5) * MINUTE && one.to > (claimed + 5) * MINUTE)!;
    expect({ state: at.state, basis: at.basis, vouchers: at.vouchers }).toEqual({ state: 0, basis: "one", vouchers: ["b"] });
  });

  test("say that the rates can be told, and whose is the worse", () => {
    const { site, accounts } = smallSite(signals([]));
    const model = referenceModels(site, accounts, [], period)[0]!;
    expect(model.identified).toBe(true);
    expect(model.converged).toBe(true);
    const [a, b] = model.witnesses;
    expect(a!.saysOnGivenOff.value!).toBeGreaterThan(3 * b!.saysOnGivenOff.value!);
    expect(a!.saysOnGivenOff.low!).toBeLessThan(1 / 16);
    expect(a!.saysOnGivenOff.high!).toBeGreaterThan(1 / 16);
  });

  test("of a door on the same board as the only meter that changed prove nothing", () => {
    const moving = { ...signals(["board"]), rail: { on: "door-1", shares: ["board"], account: line(...door) } };
    const free = { ...moving, rail: { ...moving.rail, shares: [] } };
    const stateIn = (given: Record<string, SmallSignal>): number => stateAt(bookOf(given)("bay-1", []).timeline, (claimed + 5) * MINUTE);
    expect(stateIn(moving)).toBe(2);
    expect(stateIn(free)).toBe(1);
  });
});

describe("two contacts on one board that fail together", () => {
  const visits = Array.from({ length: 20 }, (_, i) => 5 + i * 29);
  const steps: Steps = [[0, 0], ...visits.flatMap((at): Steps => [[at, 1], [at + 10, 0]])];
  const contact = (shares: readonly string[]): SmallSignal => ({ on: "door-1", shares, account: line(...steps) });

  test("agree all the time and are still one witness", () => {
    const { segments } = bookOf({ rail: contact(["board-a"]), hinge: contact(["board-a", "hub"]) })("door-1", []);
    expect(segments).toHaveLength(41);
    for (const { basis, vouchers } of segments) expect([basis, vouchers]).toEqual(["one", ["rail", "hinge"]]);
  });

  test("are one witness also when only a signal of another subject connects them", () => {
    const phone: SmallSignal = { on: "person-1", shares: ["hub", "board-b"], account: line([0, 0]) };
    const { segments } = bookOf({ rail: contact(["hub"]), hinge: contact(["board-b"]), phone })("door-1", []);
    expect(new Set(segments.map((one) => one.basis))).toEqual(new Set(["one"]));
  });

  test("are told of as such, with the weight of each vote", () => {
    const { site, accounts } = smallSite({ rail: contact(["board-a"]), hinge: contact(["board-a"]) });
    const [model] = referenceModels(site, accounts, [], period);
    expect(model!.identified).toBe(false);
    expect(model!.why).toBe("Who is right cannot be told: all sensors depend on board-a.");
    expect(model!.causes).toEqual([{ signals: ["rail", "hinge"], causes: ["board-a"], correlation: 0.5, errorSegments: 0, weight: 1 / 1.5 }]);
    expect(model!.witnesses.map((one) => one.saysOnGivenOff.value)).toEqual([null, null]);
  });

  test("would be two if they shared nothing", () => {
    const { segments } = bookOf({ rail: contact(["board-a"]), hinge: contact(["board-b"]) })("door-1", []);
    expect(new Set(segments.map((one) => one.basis))).toEqual(new Set(["several"]));
  });
});

describe("a hub restart in which everything returns at once", () => {
  const LATE = 300 * MINUTE;
  const quiet = { from: 0, to: 600 * MINUTE };
  const specs = ["a", "b"].map((id) => signal(id, { subject: "bay-1", shares: ["hub"], expectMs: MINUTE })).concat(signal("c", { subject: "bay-2", shares: ["hub"], expectMs: MINUTE }));
  const site = siteOf(specs, { bridgeMs: 10 * MINUTE, restartMs: 10 * SECOND });

  test("makes no arrival, though all of them say so afterwards", () => {
    const rows = [...every(MINUTE, 0, LATE, 0), ...every(MINUTE, LATE + 4 * MINUTE, quiet.to, 1)];
    const accounts = signalAccounts(site, readingsMap({ a: rows, b: rows, c: rows }), quiet);
    expect(accounts.get("a")!.restarts).toHaveLength(1);
    const { timeline, segments, barriers } = makeReferenceBook(site, accounts, [], quiet)("bay-1", []);
    expect(segments.map((one) => one.state)).toEqual([0, 2, 1]);
    expect(turned(timeline, 1, { bridgeMs: 10 * MINUTE, barriers: [] })).toHaveLength(1);
    expect(turned(timeline, 1, { bridgeMs: 10 * MINUTE, barriers: barriers! })).toEqual([]);
  });

  test("hides nothing from a witness that does not hang on the hub", () => {
    const rows = [...every(MINUTE, 0, LATE, 0), ...every(MINUTE, LATE + 4 * MINUTE, quiet.to, 1)];
    const free = [...every(MINUTE, 0, LATE + 2 * MINUTE, 0), ...every(MINUTE, LATE + 2 * MINUTE, quiet.to, 1)];
    const wider = { ...site, signals: [...site.signals, signal("d", { subject: "bay-1", expectMs: MINUTE })] };
    const accounts = signalAccounts(wider, readingsMap({ a: rows, b: rows, c: rows, d: free }), quiet);
    const { timeline, barriers } = makeReferenceBook(wider, accounts, [], quiet)("bay-1", []);
    expect(turned(timeline, 1, { bridgeMs: 0, barriers: barriers! })).toEqual([{ at: LATE + 2 * MINUTE, earliest: LATE + 2 * MINUTE }]);
  });
});

const ids = ["s0", "s1", "s2", "d0", "d1", "p0"];
const subjectOf = (id: string): string => (id.startsWith("s") ? "bay-1" : id.startsWith("d") ? "door-1" : "person-1");
const anySteps = fc
  .array(fc.tuple(fc.integer({ min: 0, max: LENGTH - 1 }), fc.constantFrom<TruthState>(0, 1, 0, 1, 2)), { maxLength: 40 })
  .map((list) => line(...list.toSorted((a, b) => a[0] - b[0])));
const anyAccounts = fc.tuple(...ids.map(() => anySteps)).map((all) => Object.fromEntries(all.map((one, i) => [ids[i]!, one])));
const anyShares = fc.array(fc.subarray(["board", "hub"]), { minLength: ids.length, maxLength: ids.length });
const anyDiary = fc.array(
  fc.record({ state: fc.constantFrom<0 | 1>(0, 1), from: fc.integer({ min: -5, max: LENGTH }), length: fc.nat(200) }).map(({ state, from, length }) => wrote("bay-1", state, from, from + length)),
  { maxLength: 5 },
);

function asked(shares: readonly string[][], accounts: Readonly<Record<string, ReturnType<typeof line>>>, diary: readonly DiaryEntry[], subject: string, excluding: readonly string[]): Reference {
  // The site knows every signal and subject, whoever has an account.
  const { site } = smallSite(Object.fromEntries(ids.map((id, i) => [id, { on: subjectOf(id), shares: shares[i]!, account: line() }])));
  const { accounts: given } = smallSite(Object.fromEntries(Object.entries(accounts).map(([id, account]) => [id, { on: subjectOf(id), account }])));
  return makeReferenceBook(site, given, diary, period)(subject, excluding);
}

describe("a reference, by property", () => {
  test("never changes when a signal left out of it changes, whatever it watches, be it to nothing at all", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, fc.subarray(ids, { minLength: 1 }), anyAccounts, fc.constantFrom("bay-1", "door-1", "person-1"), (shares, accounts, diary, excluding, others, subject) => {
        const before = asked(shares, accounts, diary, subject, excluding);
        const changed = { ...accounts, ...Object.fromEntries(excluding.map((id) => [id, others[id]!])) };
        expect(asked(shares, changed, diary, subject, excluding)).toEqual(before);
        const gone = Object.fromEntries(Object.entries(accounts).filter(([id]) => !excluding.includes(id)));
        expect(asked(shares, gone, diary, subject, excluding)).toEqual(before);
      }),
      { numRuns: 100 },
    );
  });

  test("says what the diary says, needs a known voucher otherwise, and is never sure of what it does not know", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, fc.subarray(ids), (shares, accounts, diary, excluding) => {
        const { segments, timeline } = asked(shares, accounts, diary, "bay-1", excluding);
        for (const { from, to, state, basis, vouchers, probability } of segments) {
          const middle = (from + to) / 2;
          const written = new Set(diary.filter((one) => one.from <= middle && middle < one.to).map((one) => one.state));
          expect(basis === "diary").toBe(written.size === 1);
          if (basis === "diary") expect([state, probability, vouchers]).toEqual([[...written][0], 1, []]);
          else if (state === 2) expect([basis, probability, vouchers]).toEqual(["none", 0.5, []]);
          else {
            expect(probability).toBeGreaterThanOrEqual(0.9);
            expect(probability).toBeLessThan(1);
            expect(vouchers.length).toBeGreaterThan(0);
            for (const id of vouchers) {
              expect(excluding).not.toContain(id);
              expect(stateAt(accounts[id]!, middle)).not.toBe(2);
            }
            const groups = causeGroups(ids.map((id, i) => ({ id, shares: shares[i]! })));
            if (new Set(vouchers.map((id) => groups.get(id))).size === 1) expect(basis).toBe("one");
          }
          expect(stateAt(timeline, middle)).toBe(state);
        }
      }),
      { numRuns: 100 },
    );
  });

  test("has segments that follow one another over the whole period, no two neighbours alike, and a canonical timeline", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, fc.subarray(ids), (shares, accounts, diary, excluding) => {
        const { segments, timeline } = asked(shares, accounts, diary, "bay-1", excluding);
        expect(segments[0]!.from).toBe(0);
        expect(segments.at(-1)!.to).toBe(period.to);
        for (let i = 1; i < segments.length; i += 1) {
          const [before, after] = [segments[i - 1]!, segments[i]!];
          expect(after.from).toBe(before.to);
          expect({ ...after, from: 0, to: 0 }).not.toEqual({ ...before, from: 0, to: 0 });
        }
        expect(timeline).toEqual(canonicalTimeline(0, period.to, timeline.times, timeline.states));
      }),
      { numRuns: 100 },
    );
  });
});
