/**
 * The comparison among fellows at the level of scores: fleets of bays with two meters each, of which what stands out is known to have been
 * made worse, or not. Bays differ by nature, in faults and in silences alike: not at all, gamma, with a heavy tail, or by being of two sorts.
 * Beside them sensors chatter, and makes are worse.
 */
import { comparisonsOf } from "../../../src/compare/fleets/comparisons.js";
import { roundsOf } from "../../../src/compare/fleets/rounds.js";
import { bayName, type FleetScene, simulatedFleet, WORSE_FIRMWARE, WORSE_MODEL } from "../simulated-fleet.js";

const BAYS = 200;
/** Sizes of fleets in which false alarms are counted. */
const SIZES = [24, 72, BAYS];
const WORSE = [17, 96, 171];
/** Sensors that chatter 10, 50 and 200 times, none of them in a bay made worse. */
const CHATTER = [
  { sensor: 80, times: 10 },
  { sensor: 200, times: 50 },
  { sensor: 300, times: 200 },
];

/** How bays differ by nature. */
export const natures: readonly { readonly words: string; readonly of: Pick<FleetScene, "shape" | "heavy" | "sorts"> }[] = [
  { words: "not at all", of: { shape: Infinity } },
  { words: "gamma, shape 8 (by a third)", of: { shape: 8 } },
  { words: "gamma, shape 2 (by two thirds)", of: { shape: 2 } },
  { words: "lognormal, σ = 0.3", of: { shape: Infinity, heavy: 0.3 } },
  { words: "lognormal, σ = 0.5", of: { shape: Infinity, heavy: 0.5 } },
  { words: "lognormal, σ = 0.7", of: { shape: Infinity, heavy: 0.7 } },
  { words: "lognormal, σ = 1", of: { shape: Infinity, heavy: 1 } },
  { words: "one in ten three times as bad", of: { shape: Infinity, sorts: { share: 0.1, times: 3 } } },
];

type Say = (text: string) => void;
type Compared = ReturnType<typeof comparisonsOf>;

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
const isOut = ({ faults, silences, flickers }: Compared["bays"][number] | Compared["signals"][number] | Compared["models"][number]): boolean => faults.standsOut || silences.standsOut || flickers.standsOut;

function compared(scene: Omit<FleetScene, "bays" | "baysASite">, bays = BAYS): Compared {
  return comparisonsOf(roundsOf(simulatedFleet({ ...scene, bays, baysASite: 10, silencesToo: true }))[0] ?? [], 0.95);
}

/** So many seeds, from the first on. */
export interface Seeds {
  readonly first: number;
  readonly seeds: number;
}

/** Nothing is made worse: how many fleets have a bay, a sensor, a model or firmware, or any of these that stands out. */
export function studyFalseAlarms({ first, seeds }: Seeds, say: Say, of = natures): void {
  say("| bays differ by nature | bays | fleets with a bay | with a sensor | with a model or firmware | with any of these |");
  say("| --- | --- | --- | --- | --- | --- |");
  for (const { words, of: nature } of of) {
    for (const size of SIZES) {
      const with_ = { bay: 0, sensor: 0, make: 0, any: 0 };
      for (let seed = first; seed < first + seeds; seed += 1) {
        const { bays, signals, models, firmwares } = compared({ ...nature, worse: [], times: 1, makes: { worse: "none", times: 1 }, seed }, size);
        const [bay, sensor, make] = [bays.some(isOut), signals.some(isOut), [...models, ...firmwares].some(isOut)];
        with_.bay += Number(bay);
        with_.sensor += Number(sensor);
        with_.make += Number(make);
        with_.any += Number(bay || sensor || make);
      }
      say(`| ${words} | ${size} | ${with_.bay} of ${seeds} | ${with_.sensor} of ${seeds} | ${with_.make} of ${seeds} | ${with_.any} of ${seeds} (${percent(with_.any / seeds)}) |`);
    }
  }
}

/** Bays made worse, alone and beside sensors that chatter. */
export function studyBays({ first, seeds }: Seeds, say: Say, of = natures): void {
  say("| bays differ by nature | made worse | beside chatterers | worse bays found | chatterers found (10, 50, 200 times) | fleets with a false alarm |");
  say("| --- | --- | --- | --- | --- | --- |");
  for (const { words, of: nature } of of) {
    for (const [times, chatter] of [[1, CHATTER], [3, []], [5, []], [5, CHATTER], [10, []]] as const) {
      const worse = times === 1 ? [] : WORSE;
      const chattering = chatter.map(({ sensor }) => bayName(Math.floor(sensor / 2)));
      const bad = new Set([...worse.map(bayName), ...chattering]);
      let [found, fleetsWithFalse] = [0, 0];
      const noisy = chattering.map(() => 0);
      for (let seed = first; seed < first + seeds; seed += 1) {
        const { bays, signals } = compared({ ...nature, worse, times, chatter, seed });
        const out = new Set([...bays.filter(isOut).map(({ bay }) => bay), ...signals.filter(isOut).map(({ subject }) => subject)]);
        found += worse.filter((one) => out.has(bayName(one))).length;
        chattering.forEach((bay, i) => (noisy[i]! += Number(out.has(bay))));
        fleetsWithFalse += [...out].some((bay) => !bad.has(bay)) ? 1 : 0;
      }
      say(`| ${words} | ${times === 1 ? "none" : `3, ${times} times the faults`} | ${chatter.length === 0 ? "no" : "yes"} | ${worse.length === 0 ? "" : `${found} of ${worse.length * seeds}`} | ${noisy.join(", ")}${noisy.length === 0 ? "" : ` of ${seeds}`} | ${fleetsWithFalse} of ${seeds} |`);
    }
  }
}

/** A model, and a firmware of one model, made worse, alone and beside sensors that chatter. */
export function studyMakes({ first, seeds }: Seeds, say: Say, of = natures): void {
  say("| bays differ by nature | made worse | beside chatterers | found | fleets with another make called worse | share of its faults that the worst model's worst sensor has |");
  say("| --- | --- | --- | --- | --- | --- |");
  for (const { words, of: nature } of of) {
    for (const worse of ["none", "model", "firmware"] as const) {
      for (const chatter of [[], CHATTER]) {
        if (worse === "none" && chatter.length === 0) continue;
        let [found, fleetsWithFalse, share] = [0, 0, 0];
        for (let seed = first; seed < first + seeds; seed += 1) {
          const { models, firmwares } = compared({ ...nature, worse: [], times: 1, chatter, makes: { worse, times: 3 }, seed });
          const out = [...models, ...firmwares].filter(isOut);
          const isIt = ({ model, firmware }: (typeof out)[number]): boolean => model === WORSE_MODEL && firmware === (worse === "firmware" ? WORSE_FIRMWARE : null);
          // A model of which one firmware is worse is worse, and so are all firmwares of none in particular.
          const isRight = (one: (typeof out)[number]): boolean => worse !== "none" && one.model === WORSE_MODEL && (one.firmware === null || isIt(one));
          found += out.some(isIt) ? 1 : 0;
          fleetsWithFalse += out.some((one) => !isRight(one)) ? 1 : 0;
          share += Math.max(...models.map(({ worst }) => worst?.share ?? 0)) / seeds;
        }
        const what = worse === "none" ? "none" : worse === "model" ? "a model, 3 times the faults" : "a firmware of a model, 3 times the faults";
        say(`| ${words} | ${what} | ${chatter.length === 0 ? "no" : "yes"} | ${worse === "none" ? "" : `${found} of ${seeds}`} | ${fleetsWithFalse} of ${seeds} | ${percent(share)} |`);
      }
    }
  }
}
