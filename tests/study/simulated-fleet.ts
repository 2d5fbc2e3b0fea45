import { COUNTS_SCHEMA, type Counts, type SignalCounts } from "../../src/result/counts.js";
import { randomStream, type Random } from "../../src/simulate/random.js";

/** A fleet at the level of scores: no readings, only what a month of audits would have counted. */
export interface FleetScene {
  readonly bays: number;
  /** Bays of one site. */
  readonly baysASite: number;
  /** Indices of bays made worse, and how many times as many faults they have. */
  readonly worse: readonly number[];
  readonly times: number;
  /** Shape of the gamma distribution of the bays' own rates; Infinity: all alike. */
  readonly shape: number;
  readonly seed: number;
  /** Heavy tails instead: the bays' own rates are lognormal with this standard deviation of the logarithm, their mean 1. */
  readonly heavy?: number;
  /** Two sorts of bays instead: this share of them has so many times the rate of the others by nature, their mean 1. */
  readonly sorts?: { readonly share: number; readonly times: number };
  /** Silences differ by nature as faults do. */
  readonly silencesToo?: boolean;
  /** Sensors (by number) with so many false reports more. */
  readonly chatter?: readonly { readonly sensor: number; readonly times: number }[];
  /** Sensors have one of four models and one of three firmwares, by lot; one model, or one firmware of one model, has so many times the faults. */
  readonly makes?: { readonly worse: "none" | "model" | "firmware"; readonly times: number };
}

/** The model and the firmware that are made worse. */
export const WORSE_MODEL = "model-2";
export const WORSE_FIRMWARE = "1.1";
const MODELS = 4;
const FIRMWARES = 3;

/** Two meters a bay, thirty days; 5 to 120 visits a bay; 1.5 % of turns missed and 1.5 phantoms in 30 days, times the bay's own rate. */
export function simulatedFleet(scene: FleetScene): Counts[] {
  const random = randomStream(scene.seed, "fleet");
  const lot = randomStream(scene.seed, "makes");
  let sensor = 0;
  const sites = new Map<number, GrowingSite>();
  for (let bay = 0; bay < scene.bays; bay += 1) {
    const siteNumber = Math.floor(bay / scene.baysASite);
    const site = sites.get(siteNumber) ?? emptySite(siteNumber);
    sites.set(siteNumber, site);
    const nature = natureOf(scene, random);
    const own = nature * (scene.worse.includes(bay) ? scene.times : 1);
    const visits = 5 + Math.floor(random() * 116);
    const id = bayName(bay);
    site.bays.push({ bay: id, vehicle: null, arrivals: visits, departures: visits });
    for (const place of ["overhead", "wall"]) {
      const make = scene.makes === undefined ? null : { model: `model-${1 + Math.floor(lot() * MODELS)}`, firmware: `1.${Math.floor(lot() * FIRMWARES)}` };
      const one = signal(id, place, visits, own * (isWorse(make, scene) ? (scene.makes?.times ?? 1) : 1), scene.silencesToo === true ? nature : 1, random);
      const more = scene.chatter?.find((chatterer) => chatterer.sensor === sensor)?.times ?? 0;
      site.signals.push({ ...one, ...make, phantoms: one.phantoms + more });
      sensor += 1;
    }
  }
  return [...sites.values()];
}

function natureOf({ heavy, sorts, shape }: FleetScene, random: Random): number {
  if (heavy !== undefined) return lognormal(random, heavy);
  if (sorts !== undefined) return (random() < sorts.share ? sorts.times : 1) / (1 + sorts.share * (sorts.times - 1));
  return Number.isFinite(shape) ? gamma(random, shape) / shape : 1;
}

function isWorse(make: { readonly model: string; readonly firmware: string } | null, { makes }: FleetScene): boolean {
  if (make === null || makes === undefined || makes.worse === "none" || make.model !== WORSE_MODEL) return false;
  return makes.worse === "model" || make.firmware === WORSE_FIRMWARE;
}

/** `bay-007`. */
export function bayName(bay: number): string {
  return `bay-${String(bay).padStart(3, "0")}`;
}

/** A site to which bays and signals are still added. */
type GrowingSite = Counts & { readonly bays: Counts["bays"][number][]; readonly signals: Counts["signals"][number][] };

function emptySite(number: number): GrowingSite {
  return {
    schema: COUNTS_SCHEMA,
    made: { at: Date.parse("2026-07-01T00:00:00.000Z"), by: "a simulation" },
    site: { name: `yard ${String(number).padStart(2, "0")}`, timeZone: "UTC", confidence: 0.95 },
    period: { from: Date.parse("2026-06-01T00:00:00.000Z"), to: Date.parse("2026-07-01T00:00:00.000Z"), days: 30, label: "2026-06" },
    signals: [],
    bays: [],
    rules: [],
  };
}

function signal(bay: string, place: string, visits: number, own: number, quiet: number, random: Random): SignalCounts {
  const turns = 2 * visits;
  const missedTurns = Math.min(turns, poisson(random, 0.015 * own * turns));
  return {
    signal: `${bay}-${place}`,
    subject: bay,
    subjectClass: "bay",
    kind: "distance",
    model: place === "wall" ? "side-1" : "mast-2",
    firmware: null,
    turns,
    missedTurns,
    visits,
    missedVisits: Math.min(visits, Math.round(missedTurns / 2)),
    phantoms: poisson(random, 1.5 * own),
    judgedDays: 29,
    knownDays: 29.5,
    silences: poisson(random, 0.4 * quiet),
    silentDays: 0.5,
    restarts: 0,
    flaps: 0,
    disagreements: [],
    lagsArriving: [],
    lagsLeaving: [],
  };
}

function poisson(random: Random, mean: number): number {
  // Waiting times add up until they pass the mean: exact, and means are small here.
  let count = -1;
  for (let passed = 0; passed <= mean; count += 1) passed -= Math.log(1 - random());
  return count;
}

/** Marsaglia & Tsang (2000), with the power of a uniform for shapes below 1. */
function gamma(random: Random, shape: number): number {
  if (shape < 1) return gamma(random, shape + 1) * (1 - random()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** Mean 1; Box & Muller (1958). */
function lognormal(random: Random, deviation: number): number {
  const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return Math.exp(deviation * normal - deviation ** 2 / 2);
}
