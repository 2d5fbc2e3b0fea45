/* eslint-disable @typescript-eslint/no-non-null-assertion -- a group has at least one reason */
import { rollups, sum } from "d3-array";
import { DAYS_PER_MONTH } from "../../ground/units.js";
import type { Fleet, FleetBayFinding, FleetPairFinding, FleetSignalFinding, FleetStanding } from "../../result/fleet.js";
import { placeKey } from "./units.js";

type Visit = Fleet["sendFirst"][number];

/** As many places as one person sees to in a week. Our own choice. */
const MOST_VISITS = 10;
/**
 * A signal that was known for less than this share of its time is dark: no statistics are needed to send someone. Our
 * own choice.
 */
const DARK_BELOW = 0.5;

/** A reason for a visit: a sentence, and its weight by the bay, by its signals, or by darkness. */
interface Reason {
  readonly site: string;
  readonly subject: string;
  readonly reason: string;
  readonly byBay?: number;
  readonly bySignals?: number;
  readonly dark?: number;
}

/**
 * Where to send someone first: places (a bay, a door, a person's phone) with something that stands out among its
 * fellows, or with a dark signal, the heaviest first. Weight: faults and silences in 30 days beyond what is expected,
 * by the bay or by its signals, whichever is more; and the days in 30 in which its signals were dark. Our own choice:
 * one fault more weighs as much as one dark day.
 */
export function sendFirst(
  bays: readonly FleetBayFinding[],
  signals: readonly FleetSignalFinding[],
  pairs: readonly FleetPairFinding[],
): Visit[] {
  // Signals before bays: the person sent wants to know which device to look at.
  const reasons = [...signals.flatMap(signalReasons), ...pairs.flatMap(pairReasons), ...bays.flatMap(bayReasons)];
  return rollups(
    reasons,
    (of): Visit => ({
      site: of[0]!.site,
      subject: of[0]!.subject,
      reasons: of.map(({ reason }) => reason),
      weight:
        Math.max(
          sum(of, (one) => one.byBay),
          sum(of, (one) => one.bySignals),
        ) + sum(of, (one) => one.dark),
    }),
    ({ site, subject }) => placeKey(site, subject),
  )
    .sort(([a, one], [b, other]) => other.weight - one.weight || (a < b ? -1 : 1))
    .map(([, visit]) => visit)
    .slice(0, MOST_VISITS);
}

function signalReasons(signal: FleetSignalFinding): Reason[] {
  const { site, subject, days, knownShare } = signal;
  const outstanding = standingOut(signal).map(([noun, standing]) => ({
    site,
    subject,
    reason: `${signal.signal}: ${reasonText(noun, standing, "signals")}.${noun === "faults" ? ` ${faultsText(signal)}` : ""}`,
    bySignals: excess(standing, days),
  }));
  if (days === 0 || knownShare >= DARK_BELOW) return outstanding;
  const reason = `${signal.signal}: silent or unusable most of the time, known for only ${Math.round(knownShare * 100)} %.`;
  return [...outstanding, { site, subject, reason, dark: (1 - knownShare) * DAYS_PER_MONTH }];
}

function pairReasons({ site, subject, signals, days, disagreements, lookFirst }: FleetPairFinding): Reason[] {
  if (!disagreements.standsOut) return [];
  const where = lookFirst === null ? "look at both" : `look at both, first at ${lookFirst.signal}: ${lookFirst.why}`;
  const reason = `${signals.join(" and ")} differ: ${reasonText("disagreements", disagreements, "pairs")}. Nobody can tell which of the two is wrong: ${where}.`;
  return [{ site, subject, reason, bySignals: excess(disagreements, days) }];
}

function bayReasons(bay: FleetBayFinding): Reason[] {
  const days = bay.days / Math.max(1, bay.signals.length);
  return standingOut(bay).map(([noun, standing]) => ({
    site: bay.site,
    subject: bay.bay,
    reason: `The bay: ${reasonText(noun, standing, "bays")}.`,
    byBay: excess(standing, days),
  }));
}

function standingOut(unit: { readonly faults: FleetStanding; readonly silences: FleetStanding }): ["faults" | "silences", FleetStanding][] {
  const both: ["faults" | "silences", FleetStanding][] = [
    ["faults", unit.faults],
    ["silences", unit.silences],
  ];
  return both.filter(([, { standsOut }]) => standsOut);
}

/** What the faults of a signal were: what it did not report, and what it reported that was not so. */
function faultsText({ missedTurns, turns, phantoms }: FleetSignalFinding): string {
  return `It missed ${missedTurns} of ${turns} changes, and reported ${phantoms} that did not happen.`;
}

function reasonText(
  noun: "faults" | "silences" | "disagreements",
  { count, expected, controlHigh }: FleetStanding,
  fellows: "bays" | "signals" | "pairs",
): string {
  return `${count} ${noun}; typical for the other ${fellows} would be about ${Number((expected ?? 0).toPrecision(2))}, at most ${controlHigh ?? 0}`;
}

function excess({ count, expected }: FleetStanding, days: number): number {
  return days === 0 ? 0 : (Math.max(0, count - (expected ?? 0)) / days) * DAYS_PER_MONTH;
}
