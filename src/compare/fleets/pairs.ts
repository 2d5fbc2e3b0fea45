/* eslint-disable @typescript-eslint/no-non-null-assertion -- a pair holds indices of signals; rates and standings are in the order of the pairs */
import type { Counts } from "../../result/counts.js";
import { timesText } from "../../judge/rule/words.js";
import type { FleetPairFinding } from "../../result/fleet.js";
import { addedUp, groupTotals } from "../added-up.js";
import { compareFamily, eachAmong, standFamily } from "./compare.js";
import type { Counted } from "./counted.js";
import { rate, type FleetSignal } from "./units.js";
import { lookUp } from "../../ground/look-up.js";

/**
 * Two signals of one subject that nobody could judge between for some time, its periods added up; `first` and `second`
 * are indices into the fleet's signals.
 */
export interface FleetPair {
  readonly site: string;
  readonly subject: string;
  readonly first: number;
  readonly second: number;
  /** The kinds of both: pairs are compared with pairs of the same kinds. */
  readonly kinds: string;
  readonly count: number;
  readonly jointDays: number;
}

/** Fewer flickers or silences than this tell nothing of which one is unwell. Our own choice. */
const FEWEST_SIGNS = 3;
/** Nor do they where the other one has half as many. Our own choice. */
const CLEARLY_MORE = 2;
/** A signal is worse when its known share is lower than the other's by more than this. Our own choice. */
const CLEARLY_LESS_KNOWN = 0.1;

/** Adds up each pair of signals over the periods of its site, each pair once, sorted by site and signals. */
export function fleetPairs(audits: readonly Counts[], signals: readonly FleetSignal[]): FleetPair[] {
  const indexOf = new Map(signals.map((one, index) => [sensorKey(one.site, one), index]));
  const rows = audits.flatMap(({ site, signals: ofAudit }) => {
    const byName = new Map(ofAudit.map((one) => [one.signal, one]));
    return ofAudit.flatMap((one) =>
      (one.disagreements ?? []).flatMap(({ with: name, count, jointDays }) => {
        const other = byName.get(name);
        // Both of a pair name it; it counts once.
        if (other === undefined || one.signal >= name) return [];
        const [first, second] = [lookUp(indexOf, sensorKey(site.name, one)), lookUp(indexOf, sensorKey(site.name, other))];
        const kinds = JSON.stringify([one.kind, other.kind].sort());
        return [{ site: site.name, subject: one.subject, signal: one.signal, other: name, first, second, kinds, count, jointDays }];
      }),
    );
  });
  return addedUp(rows, ["site", "signal", "other", "first", "second"], ["count", "jointDays"]);
}

/** Tells sensors apart: one that was replaced under its name is another. */
function sensorKey(
  site: string,
  { signal, model, firmware, kind, subject }: Pick<FleetSignal, "signal" | "model" | "firmware" | "kind" | "subject">,
): string {
  return JSON.stringify([site, signal, model, firmware, kind, subject]);
}

/** Each pair's disagreements, with what the rate of all pairs of the same kinds would bring it for its own time. */
export function measuredPairs(pairs: readonly FleetPair[]): Counted[] {
  const ofKinds = groupTotals(pairs, "kinds", ["count", "jointDays"]);
  return pairs.map(({ count, jointDays }, i) => ({ count, exposure: jointDays * rate(ofKinds[i]!.count, ofKinds[i]!.jointDays) }));
}

/**
 * Every pair among the pairs of the same kinds. Where it stands out nobody knows which of the two is wrong; other signs
 * may tell where to look first.
 */
export function pairFindings(
  pairs: readonly FleetPair[],
  disagreements: readonly Counted[],
  signals: readonly FleetSignal[],
  confidence: number,
): FleetPairFinding[] {
  const nothing = pairs.map(() => ({ count: 0, exposure: 0 }));
  const measured = { faults: disagreements, silences: nothing, flickers: nothing };
  const standings = standFamily(compareFamily(measured, eachAmong(pairs, (pair) => pair.kinds), pairs.length, confidence), confidence);
  return pairs.map(({ site, subject, first, second, jointDays }, i) => {
    const [one, other] = [signals[first]!, signals[second]!];
    return {
      site,
      subject,
      signals: [one.signal, other.signal],
      days: jointDays,
      disagreements: standings[i]!.faults,
      lookFirst: unwell(one, other) ?? unwell(other, one),
    };
  });
}

/** Why to look at `one` before `other`; null where nothing says so. */
function unwell(one: FleetSignal, other: FleetSignal): FleetPairFinding["lookFirst"] {
  const clearly = (mine: number, theirs: number): boolean => mine >= FEWEST_SIGNS && mine >= CLEARLY_MORE * theirs;
  const known = ({ knownDays, days }: FleetSignal): number => (days === 0 ? 0 : knownDays / days);
  if (clearly(one.flaps, other.flaps))
    return { signal: one.signal, why: `it also flickered ${timesText(one.flaps)}, ${other.signal} ${timesText(other.flaps)}` };
  if (clearly(one.silences, other.silences))
    return { signal: one.signal, why: `it also fell silent ${timesText(one.silences)}, ${other.signal} ${timesText(other.silences)}` };
  if (known(one) < known(other) - CLEARLY_LESS_KNOWN)
    return { signal: one.signal, why: `it was also known for only ${Math.round(known(one) * 100)} % of the time` };
  return null;
}
