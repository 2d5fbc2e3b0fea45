import type { Counts } from "../../result/counts-schema.js";
import type { Member } from "./compare.js";
import { groupBy } from "./exposures.js";
import { standFamily } from "./family.js";
import type { FleetPairFinding } from "../../result/fleet-schema.js";
import type { FleetSignal } from "./units.js";

/** Two signals of one subject that nobody could judge between for some time, its periods added up; `signals` are indices into the fleet's signals. */
export interface FleetPair {
  readonly site: string;
  readonly subject: string;
  readonly signals: readonly [number, number];
  readonly count: number;
  readonly jointDays: number;
}

/** Fewer flickers or silences than this tell nothing of which one is unwell. Our own choice. */
const FEWEST_SIGNS = 3;
/** Nor do they where the other one has half as many. Our own choice. */
const CLEARLY_MORE = 2;
/** So much less of its time known, as a share, is a sign. Our own choice. */
const CLEARLY_LESS_KNOWN = 0.1;

/** Adds up each pair of signals over the periods of its site, each pair once, sorted by site and signals. */
export function fleetPairs(parts: readonly Counts[], signals: readonly FleetSignal[]): FleetPair[] {
  const indexOf = new Map(signals.map((one, index) => [keyOf(one.site, one), index]));
  const added = new Map<string, FleetPair>();
  for (const { site, signals: ofPart } of parts) {
    const bySignal = new Map(ofPart.map((one) => [one.signal, one]));
    for (const one of ofPart) {
      for (const { with: name, count, jointDays } of one.disagreements ?? []) {
        const other = bySignal.get(name);
        // Both of a pair tell of it; it counts once.
        if (other === undefined || one.signal >= name) continue;
        const pair = [indexOf.get(keyOf(site.name, one))!, indexOf.get(keyOf(site.name, other))!] as const;
        const key = JSON.stringify([site.name, one.signal, name, ...pair]);
        const before = added.get(key);
        added.set(key, { site: site.name, subject: one.subject, signals: pair, count: (before?.count ?? 0) + count, jointDays: (before?.jointDays ?? 0) + jointDays });
      }
    }
  }
  return [...added].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, pair]) => pair);
}

function keyOf(site: string, { signal, model, firmware, kind, subject }: Pick<FleetSignal, "signal" | "model" | "firmware" | "kind" | "subject">): string {
  return JSON.stringify([site, signal, model, firmware, kind, subject]);
}

/** Each pair's disagreements, with what the rate of all pairs of the same kinds would bring it for its own time. */
export function measuredPairs(pairs: readonly FleetPair[], signals: readonly FleetSignal[]): Member[] {
  const rates = new Map([...groupBy(pairs, (pair) => kindsOf(pair, signals))].map(([kinds, indices]) => {
    const total = (read: (pair: FleetPair) => number): number => indices.reduce((sum, index) => sum + read(pairs[index]!), 0);
    const days = total((pair) => pair.jointDays);
    return [kinds, days === 0 ? 0 : total((pair) => pair.count) / days];
  }));
  return pairs.map((pair) => ({ count: pair.count, exposure: pair.jointDays * rates.get(kindsOf(pair, signals))! }));
}

/** Every pair among the pairs of the same kinds. Where it stands out nobody knows which of the two is wrong; other signs may tell where to look first. */
export function pairFindings(pairs: readonly FleetPair[], measured: readonly Member[], signals: readonly FleetSignal[], confidence: number): FleetPairFinding[] {
  const fellowships = [...groupBy(pairs, (pair) => kindsOf(pair, signals)).values()].map((within) => ({ within, units: within.map((index) => ({ unit: index, of: [index] })) }));
  const nothing = measured.map(() => ({ count: 0, exposure: 0 }));
  const standings = standFamily({ faults: measured, silences: nothing }, fellowships, pairs.length, confidence);
  return pairs.map(({ site, subject, signals: [first, second], jointDays }, i) => {
    const both = [signals[first]!, signals[second]!] as const;
    return { site, subject, signals: [both[0].signal, both[1].signal], days: jointDays, disagreements: standings[i]!.faults, lookFirst: unwell(...both) ?? unwell(both[1], both[0]) };
  });
}

function kindsOf({ signals: [first, second] }: FleetPair, signals: readonly FleetSignal[]): string {
  return JSON.stringify([signals[first]!.kind, signals[second]!.kind].sort());
}

/** What speaks for looking at `one` before `other`; null where nothing does. */
function unwell(one: FleetSignal, other: FleetSignal): FleetPairFinding["lookFirst"] {
  const clearly = (mine: number, theirs: number): boolean => mine >= FEWEST_SIGNS && mine >= CLEARLY_MORE * theirs;
  const known = ({ knownDays, days }: FleetSignal): number => (days === 0 ? 0 : knownDays / days);
  if (clearly(one.flaps, other.flaps)) return { signal: one.signal, why: `it also flickered ${one.flaps} times, ${other.signal} ${other.flaps} times` };
  if (clearly(one.silences, other.silences)) return { signal: one.signal, why: `it also fell silent ${one.silences} times, ${other.signal} ${other.silences} times` };
  if (known(one) < known(other) - CLEARLY_LESS_KNOWN) return { signal: one.signal, why: `it was also known for only ${Math.round(known(one) * 100)} % of the time` };
  return null;
}
