/**
 * How often the list finds what is planted, and how often it sends somebody for nothing. First whole months: fleets of four depots of six
 * bays whose exports go through the whole path, with every mode at three strengths. Then up to 200 bays with two meters each at the level of
 * scores, which say how often bays, sensors and makes stand out by chance, and what is found. The tables stand in docs/fleet.md. Run:
 * npm run study:fleet -- 112 100 (0 fleets: the scores alone), or with the first seed of the scores behind it: 0 40 2001
 */
import { answersInThreads } from "./in-threads.js";
import { studyBays, studyFalseAlarms, studyMakes } from "./keeper/score-study.js";
import type { FleetAnswer } from "./keeper/worker.js";

const SEEDS = Number(process.argv[3] ?? 100);
const FIRST = Number(process.argv[4] ?? 1);
const FLEETS = Number(process.argv[2] ?? 112);

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

/** Whole months of fleets with planted faults. */
async function studyMonths(): Promise<void> {
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
  const strengthOf = ["weak", "middle", "strong"];
  const inOrder = answers.flatMap(({ faults: own }) =>
    own.flatMap((stronger) =>
      own
        .filter((weaker) => weaker.mode === stronger.mode && !["swapped", "renamed channel"].includes(stronger.mode) && strengthOf.indexOf(weaker.strength) < strengthOf.indexOf(stronger.strength))
        .flatMap((weaker) => (stronger.rank === null || weaker.rank === null ? [] : [stronger.rank < weaker.rank])),
    ),
  );
  say(`Of two listed faults of one mode in a fleet the stronger stands first: ${inOrder.filter(Boolean).length} of ${inOrder.length}.`);
  say("");
}

if (FLEETS > 0) await studyMonths();
say(`Nothing is made worse: fleets in which something stands out, ${SEEDS} seeds a row`);
say("");
studyFalseAlarms({ first: FIRST, seeds: SEEDS }, say);
say("");
say(`200 bays, ${SEEDS} seeds a row; alarms: bays that stand out, or one of their sensors`);
say("");
studyBays({ first: FIRST, seeds: SEEDS }, say);
say("");
say(`200 bays, ${SEEDS} seeds a row; alarms: models and firmwares that stand out`);
say("");
studyMakes({ first: FIRST, seeds: SEEDS }, say);
