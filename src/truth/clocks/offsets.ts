import { writingText } from "../../site/time-pattern.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site, Source } from "../../site/site.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { slopeEstimate } from "../../statistics/theil-sen.js";
import { bestAligned } from "./alignment.js";
import { otherThanClock, SAME_SHARE, SURELY_CLOCK_SECONDS } from "./common-shift.js";
import { watchersOf, type PairedTurn } from "./paired-turns.js";
import { correctionText, strainedRules } from "./strain.js";
import { DAY_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import type { Estimate } from "../../result/estimate.js";
import type { ClockOffset, ClockPair } from "../../result/witnesses.js";

/** Less than this is no offset worth a correction: sensors themselves are late by as much. Our own choice. */
export const LEAST_OFFSET_SECONDS = 5;

/**
 * The offset of every two sources, in the site's order: the median of the differences between turns of the same kind
 * (each other's nearest, at most `joinMs` apart, settling time taken off), with one pair of signals per subject, the
 * one with most pairs; its interval lies between order statistics. If another alignment makes clearly more pairs,
 * differences are taken there: a source read in the wrong time zone, or a clock set wrong ({@link bestAligned}). Drift:
 * the slope of the differences over time.
 *
 * An offset looks like a sensor that is always late. A clock moves both directions alike: if the medians of turns to on
 * and to off have intervals that do not meet, or something else explains the offset ({@link otherThanClock}), no
 * correction is suggested. Nothing is ever corrected here.
 */
export function clockOffsets(site: Site, accounts: ReadonlyMap<string, SignalAccount>, period: Interval): ClockOffset[] {
  const sources = site.sources.filter((source) => site.signals.some((signal) => signal.source === source.id));
  return sources.flatMap((first, i) => sources.slice(i + 1).map((second) => offsetOf(site, first, second, accounts, period)));
}

function offsetOf(site: Site, first: Source, second: Source, accounts: ReadonlyMap<string, SignalAccount>, period: Interval): ClockOffset {
  const signalsOf = (source: Source) => site.signals.filter((signal) => signal.source === source.id);
  const watchers = watchersOf(site.subjects, signalsOf(first), signalsOf(second), accounts);
  const subjects = [...new Set(watchers.map((one) => one.subject))];
  const turns = bestAligned(watchers, subjects, site.joinMs);
  const seconds = (chosen: readonly PairedTurn[]): number[] => chosen.map((turn) => turn.differenceMs / 1000);
  const median = (chosen: readonly PairedTurn[]): Estimate => {
    const estimate = quantileEstimate(seconds(chosen), 0.5, site.confidence, "seconds");
    return estimate.value === null
      ? { ...estimate, why: subjects.length === 0 ? "the two sources watch no subject in common" : "no change was seen by both" }
      : estimate;
  };
  const offset = median(turns);
  const whenOn = median(turns.filter((turn) => turn.to === 1));
  const whenOff = median(turns.filter((turn) => turn.to === 0));
  const drift = slopeEstimate(
    turns.map((turn) => (turn.at - period.from) / DAY_MS),
    seconds(turns),
    site.confidence,
    "seconds per day",
  );
  const doubt = offset.value === null ? null : otherThanClock(watchers, turns, offset.value, site.joinMs);
  const { note, worthCorrecting } = caseFor(offset, whenOn, whenOff, doubt);
  const corrected = Math.round(second.clockCorrectionMs / 1000 - (offset.value ?? 0));
  return {
    first: first.id,
    second: second.id,
    subjects,
    offset,
    whenOn,
    whenOff,
    drift,
    correctedSeconds: [first.clockCorrectionMs / 1000, second.clockCorrectionMs / 1000],
    readAs: [readAs(first), readAs(second)],
    pairs: pairsOf(turns),
    suggestion: worthCorrecting ? { source: second.id, clockCorrection: correctionText(corrected), seconds: corrected } : null,
    note,
    strained: strainedRules(site, first.id, second.id, offset),
  };
}

function readAs({ written, zone }: Source): string {
  return `${writingText(written)}, ${zone}`;
}

function pairsOf(turns: readonly PairedTurn[]): ClockPair[] {
  const pairs = new Map<string, { readonly signals: readonly [string, string]; readonly seconds: number[] }>();
  for (const { subject, signals, differenceMs } of turns) {
    const pair = pairs.get(subject) ?? { signals, seconds: [] };
    pair.seconds.push(differenceMs / 1000);
    pairs.set(subject, pair);
  }
  return [...pairs.values()].map(({ signals, seconds }) => ({ signals, seconds: seconds.toSorted((a, b) => a - b) }));
}

function caseFor(offset: Estimate, whenOn: Estimate, whenOff: Estimate, doubt: string | null): { readonly note: string; readonly worthCorrecting: boolean } {
  const no = (note: string) => ({ note, worthCorrecting: false });
  if (offset.value === null) return no(`Nothing to compare: ${offset.why ?? "no pairs"}.`);
  if (offset.low === null || offset.high === null) return no("Both saw too few changes to say how far the clocks are apart.");
  if (offset.low <= 0 && offset.high >= 0) return no("The clocks may well agree: no difference is within the range.");
  if (Math.abs(offset.value) < LEAST_OFFSET_SECONDS)
    return no(`The clocks are less than ${LEAST_OFFSET_SECONDS} s apart: too little to matter.`);
  if (!meet(whenOn, whenOff) && !isSmallBeside(whenOn, whenOff, offset.value))
    return no(
      "Changes to on and to off are apart by different amounts. A wrong clock would shift both alike: this is more likely a sensor that is late by nature.",
    );
  if (doubt !== null) return no(doubt);
  return {
    note: "Both directions, and all sensors that can be compared, are apart by about the same amount, as a wrong clock would do.",
    worthCorrecting: true,
  };
}

/** What sensors are late by nature is little beside a clock that is off by minutes or hours: then both ways are about alike. */
function isSmallBeside(whenOn: Estimate, whenOff: Estimate, seconds: number): boolean {
  const size = Math.abs(seconds);
  if (whenOn.value === null || whenOff.value === null || size < SURELY_CLOCK_SECONDS) return false;
  return Math.abs(whenOn.value - whenOff.value) <= SAME_SHARE * size;
}

/** Whether two intervals have a point in common; a missing limit is infinite. */
function meet(one: Estimate, other: Estimate): boolean {
  const low = ({ low }: Estimate): number => low ?? -Infinity;
  const high = ({ high }: Estimate): number => high ?? Infinity;
  return low(one) <= high(other) && low(other) <= high(one);
}
