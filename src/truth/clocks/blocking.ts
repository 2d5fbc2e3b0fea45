import { zoneOf } from "../../ground/zone.js";
import type { Interval } from "../../ground/intervals.js";
import { MINUTE_SECONDS } from "../../ground/units.js";
import { durationText } from "../../ground/duration.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { RuleSpec, Site, Source } from "../../site/site.js";
import { correctionText } from "./strain.js";
import type { Estimate } from "../../result/estimate.js";
import type { ClockOffset } from "../../result/witnesses.js";

/** Two sources whose clocks are further apart than `join`: what one says cannot be compared with the other. */
interface ClockBlock {
  readonly sources: readonly [string, string];
  /** Positive: the second source's stamps are later. */
  readonly seconds: number;
  /** What was measured, what it spoils, and the line that fixes it. */
  readonly text: string;
}

/**
 * The pairs of sources whose offset surely exceeds the site's `join`, if both hold signals of the rule or of the
 * subjects that make it right, which could confirm it. Both directions must be that far apart, by their intervals and
 * to the same side: a phone that is late only on arriving is no clock. In the order of `offsets`.
 */
export function blockingClocksOf(site: Site, rule: RuleSpec, offsets: readonly ClockOffset[], period: Interval): ClockBlock[] {
  const sources = sourcesFor(site, rule);
  const apart = offsets.filter((one) => isTooFar(one, site.joinMs));
  return apart
    .filter(({ first, second }) => sources.has(first) && sources.has(second))
    .map((one) => ({
      sources: [one.first, one.second],
      seconds: one.offset.value ?? 0,
      text: blockText(one, oddOne(one, offsets, apart), site, period),
    }));
}

/** The sources of the rule's own signals and of those that tell whether it was right. */
export function sourcesFor(site: Site, rule: RuleSpec): ReadonlySet<string> {
  const own = new Set(expressionRefs(rule.when));
  const judged = new Set(expressionRefs(rule.rightWhen));
  return new Set(site.signals.filter(({ id, subject }) => own.has(id) || judged.has(subject)).map(({ source }) => source));
}

/** Whether two clocks are surely further apart than `join`, both ways. */
export function isTooFar({ offset, whenOn, whenOff }: ClockOffset, joinMs: number): boolean {
  const each = [offset, whenOn, whenOff];
  return each.every(({ low }) => low !== null && low * 1000 > joinMs) || each.every(({ high }) => high !== null && high * 1000 < -joinMs);
}

/**
 * The one of two sources whose clock is wrong: it is too far from others too, or the other agrees with a third. Null if
 * it could be either.
 */
export function oddOne({ first, second }: ClockOffset, offsets: readonly ClockOffset[], apart: readonly ClockOffset[]): string | null {
  const among = (list: readonly ClockOffset[], source: string): number =>
    list.filter((one) => one.first === source || one.second === source).length;
  const agreeing = offsets.filter((one) => !apart.includes(one) && one.offset.low !== null && one.offset.high !== null);
  const standing = (source: string): number => among(agreeing, source) - among(apart, source);
  const difference = standing(first) - standing(second);
  return difference === 0 ? null : difference < 0 ? first : second;
}

function blockText(one: ClockOffset, odd: string | null, site: Site, period: Interval): string {
  const { first, second, offset } = one;
  const seconds = offset.value ?? 0;
  const [earlier, later] = seconds >= 0 ? [first, second] : [second, first];
  const measured =
    `The time stamps of ${later} are ${durationText(Math.round(Math.abs(seconds)) * 1000)} later than those of ${earlier} for the same changes ` +
    `(${rangeText(offset)}, from ${offset.count} changes that both saw). Changes more than ${durationText(site.joinMs)} apart (“join”) do not count as the same, ` +
    "so neither can confirm or contradict the other.";
  return `${measured} ${clockMendText(one, odd, site, period)}`;
}

/** What to write into the site file against an offset: under the odd source, or under either where nobody can tell which. */
export function clockMendText(one: ClockOffset, odd: string | null, site: Site, period: Interval): string {
  const { first, second } = one;
  return odd === null
    ? `${mendText(one, second, first, site, period)} Or, if the clock of ${first} is the wrong one: ${mendText(one, first, second, site, period)}`
    : mendText(one, odd, odd === first ? second : first, site, period);
}

function rangeText({ low, high }: Estimate): string {
  const [near, far] = [Math.abs(low ?? 0), Math.abs(high ?? 0)].sort((a, b) => a - b);
  return `between ${durationText(Math.round(near ?? 0) * 1000)} and ${durationText(Math.round(far ?? 0) * 1000)}`;
}

/** The line to write under one source, as if its clock were the wrong one. */
function mendText(one: ClockOffset, id: string, otherId: string, site: Site, period: Interval): string {
  const source = sourceCalled(site, id);
  // What must be added to this source's stamps on top of what is added already.
  const missing = id === one.second ? -(one.offset.value ?? 0) : (one.offset.value ?? 0);
  const corrected = Math.round((source?.clockCorrectionMs ?? 0) / 1000 + missing);
  const correction = `“clock_correction: ${correctionText(corrected)}”`;
  if (source === null || !standsInZone(source)) return `Write under the source ${id}: ${correction}.`;
  const zone = fittingZone(source, missing, [sourceCalled(site, otherId)?.zone, site.timeZone, "UTC"], (period.from + period.to) / 2);
  return zone === null
    ? `Write under the source ${id}: ${correction}.`
    : `Write under the source ${id}: “time: { zone: ${zone} }” (now ${source.zone}), if its time stamps are in that zone; else ${correction}.`;
}

function sourceCalled(site: Site, id: string): Source | null {
  return site.sources.find((source) => source.id === id) ?? null;
}

/**
 * A zone explains an offset that is within this of the difference of the two zones: the rest is the sensors' own lag.
 * Our own choice. Seconds.
 */
const ZONE_FITS_WITHIN_SECONDS = 120;

/** Whether the zone in the site file can matter to a source: not if stamps are seconds since 1970. */
function standsInZone({ written }: Source): boolean {
  return written !== "epoch-s" && written !== "epoch-ms";
}

/**
 * The first of the zones in which the source's stamps would lie `missingSeconds` later than they do; null if there is
 * none. Zones are compared at one instant (epoch milliseconds): the daylight shift is the same for most of them.
 * Undefined names are skipped.
 */
function fittingZone({ zone }: Source, missingSeconds: number, candidates: readonly (string | undefined)[], at: number): string | null {
  const own = offsetSeconds(zone, at);
  // A stamp read in a zone further ahead of UTC is an earlier instant.
  return (
    candidates.find(
      (name): name is string => name !== undefined && Math.abs(own - offsetSeconds(name, at) - missingSeconds) <= ZONE_FITS_WITHIN_SECONDS,
    ) ?? null
  );
}

function offsetSeconds(zone: string, at: number): number {
  return zoneOf(zone).offset(at) * MINUTE_SECONDS;
}
