import { parse } from "csv-parse/sync";
import { expect, test } from "vitest";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { durations } from "../../src/timeline/durations.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { yearScenarioText } from "./year-scenario.js";

const run = (replace: Readonly<Record<string, string>> = {}): ReturnType<typeof runScenario> => runScenario(parseScenario(yearScenarioText(replace), "year.yaml"));
const quarter = { "to: 2027-01-01": "to: 2026-04-01" };
const withoutDirt = { ...quarter, "disorder: 0.001, unreadable: 0.001": "" };

test("the same scenario gives the same files to the byte; another seed other ones", () => {
  const [once, again, other] = [run(quarter), run(quarter), run({ ...quarter, "seed: 7": "seed: 8" })];
  expect([...again.files]).toEqual([...once.files]);
  expect(other.files.get("exports/log.csv")).not.toBe(once.files.get("exports/log.csv"));
  expect([...once.files.keys()].sort()).toEqual(["diary-kept.csv", "diary-true.csv", "exports/log.csv", "site.yaml"]);
});

test("adding a sensor, or changing one, leaves what the others say alone", () => {
  const rowsOf = (result: ReturnType<typeof runScenario>, channel: string): string[][] => parse(result.files.get("exports/log.csv")!).filter((row: string[]) => row[1] === channel);
  const plain = run(withoutDirt);
  const more = run({
    ...withoutDirt,
    "sensors:\n": 'sensors:\n  first: { on: barn-door, source: log, channel: c0, kind: contact, every: 7min, reads: { on: "1", off: "0" }, faults: { bounce: 0.5 } }\n',
    "bounce: 0.1": "bounce: 0.6",
  });
  expect(rowsOf(more, "c0").length).toBeGreaterThan(1000);
  for (const channel of ["m1", "m2", "p1"]) expect(rowsOf(more, channel)).toEqual(rowsOf(plain, channel));
  expect(rowsOf(more, "c1").length).toBeGreaterThan(rowsOf(plain, "c1").length);
  expect(more.files.get("diary-true.csv")).toBe(plain.files.get("diary-true.csv"));
});

test("changing one rate of a sensor leaves its other faults where they were", () => {
  const plain = run(quarter).planted.signals.get("phone-late")!;
  const changed = run({ ...quarter, "miss_off: 0.1,": "miss_off: 0.1, phantom: { per_30_days: 30, mean: 2min }," }).planted.signals.get("phone-late")!;
  expect(changed.phantomsOn.length).toBeGreaterThan(3);
  expect(changed.missedOff).toEqual(plain.missedOff);
  expect(changed.lagsOnMs).toEqual(plain.lagsOnMs);
});

/** Within four standard deviations of the expected count (Poisson unless a variance is given): one in 15 000 would be outside. */
function expectNear(count: number, mean: number, variance = mean): void {
  expect(Math.abs(count - mean)).toBeLessThanOrEqual(4 * Math.sqrt(variance));
}

test("over a year the planted rates come out, within what chance allows", () => {
  const { planted } = run();
  const [missing, phantom, bouncing, late] = ["meter-missing", "meter-phantom", "contact-bouncing", "phone-late"].map((name) => planted.signals.get(name)!);
  const days = 30 * 86_400_000;

  expect(missing!.trueOn).toBeGreaterThan(700);
  expectNear(missing!.missedOn.length, missing!.trueOn * 0.05, missing!.trueOn * 0.05 * 0.95);
  expectNear(missing!.dropouts, 365 * 48 * 0.02);

  expectNear(phantom!.phantomsOn.length, (phantom!.phantomOnExposureMs / days) * 12);
  expectNear(phantom!.phantomsOff.length, (phantom!.phantomOffExposureMs / days) * 6);
  expect(phantom!.phantomOnExposureMs + phantom!.phantomOffExposureMs).toBeGreaterThan(0.95 * (planted.exports.to - planted.exports.from));

  const changes = bouncing!.trueOn + bouncing!.trueOff;
  expectNear(bouncing!.bounces, changes * 0.1, changes * 0.1 * 0.9);

  expectNear(late!.missedOff.length, late!.trueOff * 0.1, late!.trueOff * 0.09);
  const sorted = [...late!.lagsOnMs].sort((a, b) => a - b);
  expect(sorted[Math.floor(sorted.length / 2)]! / 30_000).toBeCloseTo(1, 0);
  // The tail: a tenth of the departures is later by 5 min on average, so about 3.7 % come after 7 min.
  const veryLate = late!.lagsOffMs.filter((lag) => lag > 7 * 60_000).length;
  expect(veryLate / late!.lagsOffMs.length).toBeGreaterThan(0.015);
  expect(veryLate / late!.lagsOffMs.length).toBeLessThan(0.08);

  expectNear(missing!.restarts.length, (2 / 30) * 365);
});

test("phantoms are where the truth is the opposite, and their shares of time add up", () => {
  const { planted } = run(quarter);
  const { phantomsOn, phantomsOff, said } = planted.signals.get("meter-phantom")!;
  const truth = planted.truth.get("bay-1")!;
  expect(phantomsOn.length).toBeGreaterThan(3);
  for (const { from, to } of phantomsOn) expect([stateAt(truth, from), stateAt(truth, to), stateAt(said, from), stateAt(said, to)]).toEqual([OFF, OFF, ON, OFF]);
  for (const { from, to } of phantomsOff) expect([stateAt(truth, from), stateAt(truth, to), stateAt(said, from), stateAt(said, to)]).toEqual([ON, ON, OFF, ON]);
  const extra = durations(said).onMs - durations(truth).onMs;
  const lengths = (stretches: readonly { from: number; to: number }[]): number => stretches.reduce((sum, { from, to }) => sum + to - from, 0);
  expect(extra).toBe(lengths(phantomsOn) - lengths(phantomsOff));
});

test("what a sensor without faults says is the truth", () => {
  const { planted } = run({ ...quarter, ", faults: { bounce: 0.1 }": "", "shares: [board], reads": "reads" });
  const { said } = planted.signals.get("contact-bouncing")!;
  const truth = planted.truth.get("barn-door")!;
  expect([...said.times]).toEqual([...truth.times]);
  expect([...said.states]).toEqual([...truth.states]);
  expect([...said.states]).not.toContain(UNKNOWN);
});
