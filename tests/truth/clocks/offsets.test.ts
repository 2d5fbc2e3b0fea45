import { describe, expect, test } from "vitest";
import { clockOffsets } from "../../../src/truth/clocks/offsets.js";
import type { RuleSpec, Site, Source } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { accountOf, accountsOf, MINUTE, signal, siteWith, subject } from "../episodes/small-site.js";
import type { ClockOffset } from "../../../src/result/witnesses.js";

const DAY = 1440 * MINUTE;
const source = (id: string, clockCorrectionMs = 0): Source => ({ id, files: [], timeColumn: "t", written: "iso", zone: "UTC", skippedHour: "set-aside", delimiter: ",", decimal: ".", encoding: null, layout: { form: "long", signalColumn: "s", valueColumn: "v", latitudeColumn: null, longitudeColumn: null }, missing: [], lost: [], clockCorrectionMs });
const site: Site = {
  ...siteWith([subject("bay-1", "bay"), subject("ada", "person")], [{ ...signal("meter", "bay-1"), source: "a" }, { ...signal("mat", "bay-1"), source: "b" }, { ...signal("phone", "ada"), source: "c" }]),
  sources: [source("a"), source("b"), source("c")],
};

/** Thirty days, each with a visit from 8 to 12 and one from 15 to 18 o'clock; `late` tells by how much each turn is late, milliseconds. */
function visits(late: (day: number, to: 0 | 1) => number) {
  const steps = Array.from({ length: 30 }, (_, day) => day).flatMap((day) =>
    ([[8, 1], [12, 0], [15, 1], [18, 0]] as const).map(([hour, to]) => [day * DAY + hour * 60 * MINUTE + late(day, to), to] as const),
  );
  return timelineOf(0, 30 * DAY, [[0, 0], ...steps]);
}

const period = { from: 0, to: 30 * DAY };
const wobble = (day: number): number => ((day * 7) % 5) * 1000 - 2000;

function between(first: (day: number, to: 0 | 1) => number, second: (day: number, to: 0 | 1) => number, more: Partial<Site> = {}): ClockOffset {
  const accounts = accountsOf(accountOf("meter", visits(first)), accountOf("mat", visits(second)), accountOf("phone", visits(() => 0)));
  return clockOffsets({ ...site, ...more }, accounts, period)[0]!;
}

/** Two bays, each watched by a sensor on either source; `late` tells by how much a sensor of the second source is late, milliseconds. */
function boards(late: (bay: 1 | 2, day: number, to: 0 | 1) => number, corrected = 0): ClockOffset {
  const both: Site = {
    ...siteWith([subject("bay-1", "bay"), subject("bay-2", "bay")], [1, 2].flatMap((bay) => [{ ...signal(`meter-${bay}`, `bay-${bay}`), source: "a" }, { ...signal(`mat-${bay}`, `bay-${bay}`), source: "b" }])),
    sources: [source("a"), source("b", corrected)],
  };
  const accounts = accountsOf(...([1, 2] as const).flatMap((bay) => [accountOf(`meter-${bay}`, visits(() => 0)), accountOf(`mat-${bay}`, visits((day, to) => late(bay, day, to)))]));
  return clockOffsets(both, accounts, period)[0]!;
}

describe("a clock correction", () => {
  test("is advised where every sensor of the source is late by the same amount both ways", () => {
    const { suggestion, note } = boards((_, day) => 40_000 + wobble(day));
    expect(suggestion).toEqual({ source: "b", clockCorrection: "-40s", seconds: -40 });
    expect(note).toMatch(/^Both directions, and all sensors/);
    expect(boards((_, day) => 30_000 + wobble(day), -60_000).suggestion?.clockCorrection).toBe("-90s");
  });

  test("is not advised for a contact that is late by nature, closing only or both ways, beside others that are not", () => {
    expect(boards((_, day, to) => (to === 0 ? 43_000 : 0) + wobble(day)).suggestion).toBeNull();
    expect(boards((bay, day, to) => (bay === 1 && to === 0 ? 43_000 : 20_000) + wobble(day)).suggestion).toBeNull();
    const one = boards((bay, day) => (bay === 1 ? 43_000 : 6_000) + wobble(day));
    expect(one.suggestion).toBeNull();
    expect(one.note).toContain("late by nature");
  });

  test("is not advised where a meter only publishes every three minutes", () => {
    const published = boards((bay, day, to) => (day * 37_000 + bay * 61_000 + to * 83_000) % 180_000);
    expect(published.suggestion).toBeNull();
    expect(published.offset.value).toBeGreaterThan(50);
    expect(published.note).toContain("reports only now and then");
  });

  test("is not advised on the word of one pair of sensors, unless no sensor is that late", () => {
    const { suggestion, note } = between(() => 0, (day) => 90_000 + wobble(day));
    expect(suggestion).toBeNull();
    expect(note).toContain("sensors of each source");
    expect(between(() => 0, (day) => 400_000 + wobble(day)).suggestion).toMatchObject({ clockCorrection: "-400s" });
  });
});

describe("clockOffsets", () => {
  test("a clock that runs 90 s late is found within its interval", () => {
    const { offset } = between(() => 0, (day) => 90_000 + wobble(day));
    expect(offset.value).toBe(90);
    expect(offset.low!).toBeGreaterThan(87);
    expect(offset.high!).toBeLessThan(93);
    expect(offset.count).toBe(120);
  });

  test("clocks that agree get none", () => {
    expect(between(wobble, (day) => -wobble(day))).toMatchObject({ suggestion: null, note: "The clocks may well agree: no difference is within the range." });
  });

  test("a sensor that is late one way only is no clock", () => {
    const { suggestion, note, whenOn, whenOff } = between(() => 0, (day, to) => (to === 1 ? 5_000 : 120_000) + wobble(day));
    expect([whenOn.value, whenOff.value]).toEqual([5, 120]);
    expect(suggestion).toBeNull();
    expect(note).toContain("late by nature");
  });

  test("a clock that drifts is told by its slope", () => {
    const { drift } = between(() => 0, (day) => 60_000 + day * 2_000 + wobble(day));
    expect(drift.value).toBeCloseTo(2, 0);
    expect(drift.low!).toBeGreaterThan(1.8);
    expect(drift.unit).toBe("seconds per day");
  });

  test("an export read in the wrong zone is an hour out, not without a match", () => {
    expect(between(() => 0, (day) => 3_600_000 + wobble(day)).offset).toMatchObject({ value: 3600, count: 120 });
  });

  test("settling takes time that is not the clock's", () => {
    const settling = { ...site, signals: site.signals.map((one) => (one.id === "mat" ? { ...one, settleMs: 20_000 } : one)) };
    expect(between(() => 0, (day) => 20_000 + wobble(day), settling).offset.value).toBe(0);
  });

  test("sources that watch nothing in common cannot be compared", () => {
    const accounts = accountsOf(accountOf("meter", visits(() => 0)), accountOf("mat", visits(() => 0)), accountOf("phone", visits(() => 0)));
    expect(clockOffsets(site, accounts, period)[1]).toMatchObject({ first: "a", second: "c", subjects: [], offset: { value: null, why: "the two sources watch no subject in common" } });
  });

  test("a rule is named when the offset eats more than half of its shortest window", () => {
    const rule = (minutes: number): RuleSpec => ({
      name: "unlock", act: "unlock", restMs: 0, rightWhenIsDefault: false, line: null,
      when: { op: "all", of: [{ op: "turned", ref: "meter", to: 1, withinMs: minutes * MINUTE }, { op: "is", ref: "mat", state: 1, heldMs: null, recentlyMs: null }] },
      rightWhen: { op: "turned", ref: "bay-1", to: 1, withinMs: MINUTE },
    });
    const late = (day: number): number => 90_000 + wobble(day);
    expect(between(() => 0, late, { rules: [rule(10)] }).strained).toEqual([]);
    expect(between(() => 0, late, { rules: [rule(2)] }).strained).toMatchObject([{ rule: "unlock", windowSeconds: 120, text: "The clocks of a and b may be 1 min 30 s apart; the shortest window of this rule, 2 min, copes with about half of its own length." }]);
  });
});
