import { describe, expect, test } from "vitest";
import { referenceModels } from "../../../src/truth/reference/models.js";
import { inMinutes, smallSite, wrote, type SmallSignal, type Steps } from "./small-witnesses.js";

const LENGTH = 2000;
const period = { from: 0, to: LENGTH * 60_000 };
/** Ten visits of an hour, two hours and more apart. */
const visits = Array.from({ length: 10 }, (_, i) => 100 + i * 190);
const seen = (which: readonly number[]): Steps => [[0, 0], ...which.flatMap((at): Steps => [[at, 1], [at + 60, 0]])];
const diary = [
  ...visits.map((at) => wrote("bay-1", 1, at, at + 60)),
  ...[-60, ...visits].map((at, i) => wrote("bay-1", 0, at + 60, visits[i] ?? LENGTH)),
];
const on = (steps: Steps): SmallSignal => ({ on: "bay-1", account: inMinutes(LENGTH, steps) });

function ratesOf(signals: Readonly<Record<string, SmallSignal>>, written = diary) {
  const { site, accounts } = smallSite(signals);
  return referenceModels(site, accounts, written, period)[0]!.witnesses;
}

describe("error rates that the diary alone shows", () => {
  test("have the exact interval of what was counted, and a value that leans on the prior", () => {
    const [mat] = ratesOf({ mat: on(seen(visits.filter((_, i) => i !== 4))) });
    // One of ten, and none of eleven: Clopper & Pearson (1934) at 95 %; none of n has the upper end 1 − 0.025^(1/n).
    expect(mat!.saysOffGivenOn.count).toBe(10);
    expect(mat!.saysOffGivenOn.low).toBeCloseTo(0.00253, 5);
    expect(mat!.saysOffGivenOn.high).toBeCloseTo(0.44502, 5);
    expect(mat!.saysOffGivenOn.value).toBeCloseTo(1.25 / 15, 12);
    expect(mat!.saysOnGivenOff).toMatchObject({ count: 11, low: 0, why: null, unit: "share" });
    expect(mat!.saysOnGivenOff.high).toBeCloseTo(1 - 0.025 ** (1 / 11), 10);
    expect(mat!.saysOnGivenOff.value).toBeCloseTo(0.25 / 16, 12);
  });

  test("stop at the highest share allowed, and say so", () => {
    const [mat] = ratesOf({ mat: on(seen(visits.filter((_, i) => i % 5 === 0))) });
    expect(mat!.saysOffGivenOn).toMatchObject({ value: 0.45, why: "at the highest error share allowed" });
    expect(mat!.saysOffGivenOn.high!).toBeGreaterThan(0.8);
    expect(mat!.used.saysOffGivenOn).toBeLessThanOrEqual(0.45);
  });

  test("are not given by a diary that knows too little", () => {
    const [mat] = ratesOf({ mat: on(seen(visits)) }, diary.filter(({ state, from }) => state === 0 || from < 800 * 60_000));
    expect(mat!.saysOnGivenOff).toEqual({ value: null, low: null, high: null, count: 0, unit: "share", why: "Cannot be told apart: there is one witness only." });
    expect(mat!.used).toEqual({ saysOnGivenOff: 0.05, saysOffGivenOn: 0.05 });
  });
});

describe("error rates that three witnesses show", () => {
  test("lie within their intervals, which are wider than if the truth were known", () => {
    const [one, other] = ratesOf({ mat: on(seen(visits.filter((_, i) => i !== 4 && i !== 7))), beam: on(seen(visits)), loop: on(seen(visits)) }, []);
    const { value, low, high, count } = one!.saysOffGivenOn;
    expect(count).toBeCloseTo(10, 0);
    expect(low!).toBeLessThan(value!);
    expect(high!).toBeGreaterThan(value!);
    // Two of ten, known: 0.025 to 0.556.
    expect(high! - low!).toBeGreaterThan(0.53);
    expect(other!.saysOffGivenOn.low).toBe(0);
    expect(other!.saysOffGivenOn.value!).toBeLessThan(value!);
  });
});
