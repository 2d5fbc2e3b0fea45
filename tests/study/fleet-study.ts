/**
 * How many false alarms a fleet result raises, and how often it finds what was made worse: 200 bays with two meters each, at
 * the level of scores, over 100 seeds a row. The table stands in docs/fleet.md. Run: npm run study:fleet
 */
import { fleetOf } from "../../src/compare/fleets/fleet.js";
import { bayName, simulatedFleet } from "./simulated-fleet.js";

const SEEDS = Number(process.argv[2] ?? 100);
const BAYS = 200;
const WORSE = [17, 96, 171];

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

say(`${BAYS} bays, ${SEEDS} seeds a row; alarms: bays that stand out`);
say("");
say("| bays differ by nature | made worse | found | fleets with a false alarm | false among the alarms (mean share, 95 % interval) |");
say("| --- | --- | --- | --- | --- |");
for (const { shape, words } of [
  { shape: Infinity, words: "not at all" },
  { shape: 8, words: "by a third (shape 8)" },
  { shape: 2, words: "by two thirds (shape 2)" },
]) {
  for (const { worse, times } of [
    { worse: [], times: 1 },
    { worse: WORSE, times: 3 },
    { worse: WORSE, times: 5 },
    { worse: WORSE, times: 10 },
  ]) {
    const bad = new Set(worse.map(bayName));
    const shares: number[] = [];
    let found = 0;
    let fleetsWithFalse = 0;
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      const fleet = fleetOf(simulatedFleet({ bays: BAYS, baysASite: 10, worse, times, shape, seed }), { madeAt: 0, madeBy: "study", leftOut: [] });
      const alarms = fleet.bays.filter((bay) => bay.faults.standsOut || bay.silences.standsOut);
      const wrong = alarms.filter((bay) => !bad.has(bay.bay)).length;
      found += alarms.length - wrong;
      fleetsWithFalse += wrong > 0 ? 1 : 0;
      shares.push(alarms.length === 0 ? 0 : wrong / alarms.length);
    }
    const mean = shares.reduce((sum, one) => sum + one, 0) / SEEDS;
    const error = Math.sqrt(shares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (SEEDS - 1) / SEEDS);
    say(
      `| ${words} | ${worse.length === 0 ? "none" : `${worse.length}, ${times} times the faults`} | ${worse.length === 0 ? "" : `${found} of ${worse.length * SEEDS}`} | ${fleetsWithFalse} of ${SEEDS} | ${percent(mean)} (${percent(Math.max(0, mean - 1.96 * error))} to ${percent(mean + 1.96 * error)}) |`,
    );
  }
}
