/**
 * How often the list finds what is planted, and how often it sends somebody for nothing. First whole months: fleets of four depots of six
 * bays whose exports go through the whole path, with every mode at three strengths. Then 200 bays with two meters each at the level of
 * scores, which say how often bays stand out by chance. The tables stand in docs/fleet.md. Run: npm run study:fleet -- 104 100
 */
import { fleetOf } from "../../src/compare/fleets/fleet.js";
import { answersInThreads } from "./in-threads.js";
import type { FleetAnswer } from "./keeper/worker.js";
import { bayName, simulatedFleet } from "./simulated-fleet.js";

const SEEDS = Number(process.argv[3] ?? 100);
const FLEETS = Number(process.argv[2] ?? 104);
const BAYS = 200;
const WORSE = [17, 96, 171];

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

const answers = await answersInThreads<FleetAnswer>(new URL("./keeper/worker.js", import.meta.url), Array.from({ length: FLEETS }, (_, number) => number), (one, count) => {
  for (const alarm of one.falseAlarms) process.stderr.write(`fleet ${one.number}: ${alarm}\n`);
  if (count % 10 === 0) process.stderr.write(`${count} fleets\n`);
});
const faults = answers.flatMap((one) => one.faults);
const share = (some: readonly FleetAnswer["faults"][number][]): string => (some.length === 0 ? "" : `${some.filter(({ listed }) => listed).length} of ${some.length}`);
say(`${FLEETS} fleets of four depots of six bays, one month each; ${faults.length} faults planted`);
say("");
say("| fault | weak | middle | strong | listed as |");
say("| --- | --- | --- | --- | --- |");
for (const mode of new Set(faults.map((one) => one.mode))) {
  const own = faults.filter((one) => one.mode === mode);
  const by = (strength: string): string => share(own.filter((one) => one.strength === strength));
  say(`| ${mode} | ${by("weak")} | ${by("middle")} | ${by("strong")} | ${[...new Set(own.flatMap(({ as }) => as ?? []))].join(", ")} |`);
}
const grave = faults.filter(({ wrongShare }) => wrongShare !== null && wrongShare > 0.1);
const alarms = answers.flatMap(({ falseAlarms }) => falseAlarms);
say("");
say(`Of faults that made more than 1 in 10 turns wrong: ${share(grave)} (${percent(grave.filter(({ listed }) => listed).length / grave.length)}) listed.`);
say(`False alarms: ${alarms.length} in ${FLEETS} fleet-months, ${(alarms.length / FLEETS).toFixed(3)} a fleet-month. Of listed faults ${percent(faults.filter(({ first }) => first).length / faults.filter(({ listed }) => listed).length)} stand first of their site.`);
say("");
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
