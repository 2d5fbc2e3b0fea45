/**
 * The comparison among fellows at the level of scores: 200 bays with two meters each, of which what stands out is known to have been made
 * worse, or not. Bays differ by nature not at all, by gamma, or with a heavy tail; beside them sensors chatter, and makes are worse.
 */
import { comparisonsOf } from "../../../src/compare/fleets/comparisons.js";
import { roundsOf } from "../../../src/compare/fleets/rounds.js";
import { bayName, type FleetScene, simulatedFleet, WORSE_FIRMWARE, WORSE_MODEL } from "../simulated-fleet.js";

const BAYS = 200;
const WORSE = [17, 96, 171];
/** Sensors that chatter 10, 50 and 200 times, none of them in a bay made worse. */
const CHATTER = [
  { sensor: 80, times: 10 },
  { sensor: 200, times: 50 },
  { sensor: 300, times: 200 },
];

/** How bays differ by nature. */
export const natures: readonly { readonly words: string; readonly of: Pick<FleetScene, "shape" | "heavy"> }[] = [
  { words: "not at all", of: { shape: Infinity } },
  { words: "by a third (gamma, shape 8)", of: { shape: 8 } },
  { words: "by two thirds (gamma, shape 2)", of: { shape: 2 } },
  { words: "with a heavy tail (lognormal, σ = 0.7)", of: { shape: Infinity, heavy: 0.7 } },
  { words: "with a heavier tail (lognormal, σ = 1)", of: { shape: Infinity, heavy: 1 } },
];

type Say = (text: string) => void;

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

function compared(scene: Omit<FleetScene, "bays" | "baysASite">): ReturnType<typeof comparisonsOf> {
  return comparisonsOf(roundsOf(simulatedFleet({ ...scene, bays: BAYS, baysASite: 10 }))[0] ?? [], 0.95);
}

/** Share of false ones among the alarms of each seed: its mean, with a 95 % interval of the mean. */
function falseText(shares: readonly number[]): string {
  const mean = shares.reduce((sum, one) => sum + one, 0) / shares.length;
  const error = Math.sqrt(shares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / Math.max(1, shares.length - 1) / shares.length);
  return `${percent(mean)} (${percent(Math.max(0, mean - 1.96 * error))} to ${percent(mean + 1.96 * error)})`;
}

/** Bays made worse, alone and beside sensors that chatter. */
export function studyBays(seeds: number, say: Say, of = natures): void {
  say("| bays differ by nature | made worse | beside chatterers | worse bays found | chatterers found | fleets with a false alarm | false among the alarms (mean share, 95 % interval) |");
  say("| --- | --- | --- | --- | --- | --- | --- |");
  for (const { words, of: nature } of of) {
    for (const times of [1, 3, 5, 10]) {
      for (const chatter of times === 5 || times === 1 ? [[], CHATTER] : [[]]) {
        const worse = times === 1 ? [] : WORSE;
        const bad = new Set([...worse, ...chatter.map(({ sensor }) => Math.floor(sensor / 2))].map(bayName));
        const shares: number[] = [];
        let [found, noisy, fleetsWithFalse] = [0, 0, 0];
        for (let seed = 1; seed <= seeds; seed += 1) {
          const alarms = compared({ ...nature, worse, times, chatter, seed }).bays.filter(({ faults, silences, flickers }) => faults.standsOut || silences.standsOut || flickers.standsOut);
          const wrong = alarms.filter(({ bay }) => !bad.has(bay)).length;
          found += alarms.filter(({ bay }) => worse.some((one) => bayName(one) === bay)).length;
          noisy += alarms.length - wrong - alarms.filter(({ bay }) => worse.some((one) => bayName(one) === bay)).length;
          fleetsWithFalse += wrong > 0 ? 1 : 0;
          shares.push(alarms.length === 0 ? 0 : wrong / alarms.length);
        }
        const of_ = (count: number, all: number): string => (all === 0 ? "" : `${count} of ${all * seeds}`);
        say(`| ${words} | ${times === 1 ? "none" : `3, ${times} times the faults`} | ${chatter.length === 0 ? "no" : "10, 50, 200 times"} | ${of_(found, worse.length)} | ${of_(noisy, chatter.length)} | ${fleetsWithFalse} of ${seeds} | ${falseText(shares)} |`);
      }
    }
  }
}

/** A model, and a firmware of one model, made worse, alone and beside sensors that chatter. */
export function studyMakes(seeds: number, say: Say, of = natures): void {
  say("| bays differ by nature | made worse | beside chatterers | found | fleets with another model or firmware called worse |");
  say("| --- | --- | --- | --- | --- |");
  for (const { words, of: nature } of of) {
    for (const worse of ["none", "model", "firmware"] as const) {
      for (const chatter of [[], CHATTER]) {
        let [found, fleetsWithFalse] = [0, 0];
        for (let seed = 1; seed <= seeds; seed += 1) {
          const { models, firmwares } = compared({ ...nature, worse: [], times: 1, chatter, makes: { worse, times: 3 }, seed });
          const out = [...models, ...firmwares].filter(({ faults, silences, flickers }) => faults.standsOut || silences.standsOut || flickers.standsOut);
          const isIt = ({ model, firmware }: (typeof out)[number]): boolean => model === WORSE_MODEL && firmware === (worse === "firmware" ? WORSE_FIRMWARE : null);
          // A model of which one firmware is worse is worse, and so are all firmwares of none in particular.
          const isRight = (one: (typeof out)[number]): boolean => worse !== "none" && one.model === WORSE_MODEL && (one.firmware === null || isIt(one));
          found += out.some(isIt) ? 1 : 0;
          fleetsWithFalse += out.some((one) => !isRight(one)) ? 1 : 0;
        }
        const what = worse === "none" ? "none" : worse === "model" ? "a model, 3 times the faults" : "a firmware of a model, 3 times the faults";
        say(`| ${words} | ${what} | ${chatter.length === 0 ? "no" : "10, 50, 200 times"} | ${worse === "none" ? "" : `${found} of ${seeds}`} | ${fleetsWithFalse} of ${seeds} |`);
      }
    }
  }
}
