import { group, max } from "d3-array";
import type { Interval } from "../../ground/intervals.js";
import { DAY_MS, SECOND_MS } from "../../ground/units.js";
import { durationText } from "../../ground/duration.js";
import type { RuleSpec, Site } from "../../site/site.js";
import type { ClockOffset } from "../../result/witnesses.js";
import { clockMendText, isTooFar, oddOne, sourcesFor } from "./blocking.js";

/** A drift that makes up less than this over the period is lost in what the sensors themselves are late. Our own choice. Seconds. */
const LEAST_DRIFT_SECONDS = 30;

/** A clock that is set wrong or drifts, and the rules that rest on it. */
export interface ClockFault {
  /** The source whose clock it is; both, with a comma, where it could be either. */
  readonly target: string;
  /** What to do, in a sentence. */
  readonly text: string;
  /** What was measured. */
  readonly why: string;
  /** A wrong report no longer than this may be the clock's doing, milliseconds. */
  readonly reachMs: number;
  /** Rules that read or are judged by both sources. */
  readonly rules: readonly string[];
  /** Of these, the ones that cannot be judged because of it. */
  readonly blocked: readonly string[];
}

type Kind = "too far" | "apart" | "drifting";

interface Found {
  readonly kind: Kind;
  readonly pair: ClockOffset;
  readonly odd: string | null;
}

/**
 * The clocks that are wrong: further apart than `join`, apart by an offset that only a clock explains, or drifting. A
 * pair of sources is told once, as what is gravest; pairs with the same odd source are one fault.
 */
export function clockFaults(site: Site, offsets: readonly ClockOffset[], period: Interval): ClockFault[] {
  const days = (period.to - period.from) / DAY_MS;
  const kinds = new Map(offsets.flatMap((one): [ClockOffset, Kind][] => {
    const kind = kindOf(one, site.joinMs, days);
    return kind === null ? [] : [[one, kind]];
  }));
  const found = [...kinds].map(([pair, kind]): Found => ({ kind, pair, odd: oddOne(pair, offsets, [...kinds.keys()]) }));
  return [...group(found, ({ pair, odd }) => odd ?? `${pair.first}, ${pair.second}`)].flatMap(([target, all]) => {
    const byKind = (["drifting", "too far", "apart"] as const).map((kind) => all.filter((one) => one.kind === kind));
    const gravest = byKind.find(({ length }) => length > 0);
    return gravest === undefined ? [] : [faultOf(target, gravest, all, site, period)];
  });
}

/** A drift explains an offset, and not the other way round: it is looked for first. */
function kindOf(one: ClockOffset, joinMs: number, days: number): Kind | null {
  const { low, high } = one.drift;
  const least = low === null || high === null || (low <= 0 && high >= 0) ? 0 : Math.min(Math.abs(low), Math.abs(high));
  if (least * days >= LEAST_DRIFT_SECONDS) return "drifting";
  if (isTooFar(one, joinMs)) return "too far";
  return one.suggestion === null ? null : "apart";
}

function faultOf(target: string, gravest: readonly Found[], all: readonly Found[], site: Site, period: Interval): ClockFault {
  const days = (period.to - period.from) / DAY_MS;
  const touches = (rule: RuleSpec, some: readonly Found[]): boolean => {
    const sources = sourcesFor(site, rule);
    return some.some(({ pair }) => sources.has(pair.first) && sources.has(pair.second));
  };
  const named = (some: readonly Found[]): string[] => site.rules.filter((rule) => touches(rule, some)).map(({ name }) => name);
  const apart = max(all, ({ pair: { offset, drift } }) => Math.abs(offset.value ?? 0) + Math.abs(drift.value ?? 0) * days) ?? 0;
  return {
    target,
    ...wordsOf(target, gravest, site, period),
    reachMs: apart * SECOND_MS + site.joinMs,
    rules: named(all),
    blocked: named(all.filter(({ pair }) => isTooFar(pair, site.joinMs))),
  };
}

function wordsOf(target: string, gravest: readonly Found[], site: Site, period: Interval): Pick<ClockFault, "text" | "why"> {
  const [one] = gravest;
  if (one === undefined) return { text: "", why: "" };
  const { pair, odd, kind } = one;
  const mine = odd ?? pair.second;
  const against = gravest.map(({ pair: { first, second } }) => (first === mine ? second : first)).join(" and ");
  // Figures are of the second source against the first.
  const sign = mine === pair.second ? 1 : -1;
  const seen = `from ${pair.offset.count} changes that both saw`;
  if (kind === "drifting") {
    const perDay = sign * (pair.drift.value ?? 0);
    const text =
      odd === null
        ? `Find out which clock drifts, that of ${pair.first} or that of ${pair.second}, and have it set by the network.`
        : `Have the clock of ${target} set by the network: it drifts, and no “clock_correction” mends that.`;
    return { text, why: `The stamps of ${mine} come ${apartText(perDay)} every day against ${against}, ${seen}.` };
  }
  const seconds = sign * (pair.offset.value ?? 0);
  return {
    text: clockMendText(pair, odd, site, period),
    why: `The stamps of ${mine} are ${apartText(seconds)} than those of ${against}, ${seen}.`,
  };
}

function apartText(seconds: number): string {
  return `${durationText(Math.round(Math.abs(seconds)) * SECOND_MS)} ${seconds > 0 ? "later" : "earlier"}`;
}
