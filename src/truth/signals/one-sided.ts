/* eslint-disable @typescript-eslint/no-non-null-assertion --
   places in a sorted list that is not empty, and in the nine totals of an overlap */
import { pairs } from "d3-array";
import type { Site, SubjectClass } from "../../site/site.js";
import { stateWords } from "../../site/state-words.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { overlap } from "../../timeline/overlap.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { SignalAccount } from "./account.js";
import { totalMs, type Interval } from "../../ground/intervals.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";

/** A signal that notices only movement: its "on" means something, its "off" nothing. */
export interface OneSided {
  readonly signal: string;
  /** What was seen, in a sentence with its figures. */
  readonly why: string;
}

/**
 * A stretch of "on" up to this long is a pulse (milliseconds): a movement sensor holds for some minutes. Our own
 * choice.
 */
const PULSE_MS = 15 * MINUTE_MS;
/** At least this many pulses, each between two stretches of "off": fewer may be short visits. Our own choice. */
const FEWEST_PULSES = 20;
/** At least this share of the stretches of "on" are pulses. Our own choice. */
const PULSE_SHARE = 0.9;
/** "On" holds for at most this share of the known time: a phone that flaps all day is on for longer. Our own choice. */
const MOST_ON_SHARE = 0.25;
/** Less known time than this tells nothing (milliseconds). Our own choice. */
const LEAST_KNOWN_MS = 3 * DAY_MS;
/**
 * Another signal confirms this one when this one is on for at least this share of the time in which the other is. Our
 * own choice.
 */
const CONFIRMED_SHARE = 0.5;
/** Another signal is asked only if it was on for at least this long in all (milliseconds). Our own choice. */
const LEAST_OTHER_MS = 5 * HOUR_MS;
/**
 * Vehicles may come for minutes only. Without another signal a bay's pulses are movement when this share of the pauses
 * between them is no longer than {@link BURST_MS}. Our own choices.
 */
const BURST_SHARE = 0.4;
const BURST_MS = 10 * MINUTE_MS;

/**
 * Signals by words on persons and bays that say "on" in short pulses only, again and again, and "off" nearly all the
 * rest of the time: a movement sensor that was entered as if it knew both states. Another signal of the same subject
 * that was on at the same times confirms the short visits; one that was on for hours meanwhile shows that "off" means
 * nothing. Without another, a person who is never here for more than minutes is not believed, and a bay's pulses must
 * come in bursts. Doors open for seconds and are never among them. In the site file's order.
 */
export function oneSided(site: Pick<Site, "signals" | "subjects">, accounts: ReadonlyMap<string, SignalAccount>): OneSided[] {
  const classes = new Map(site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  const suspects = site.signals.flatMap(({ id, subject, kind, reading }) => {
    const [subjectClass, account] = [classes.get(subject), accounts.get(id)?.account];
    if (kind === "stir" || reading.form !== "words" || subjectClass === undefined || subjectClass === "door" || account === undefined) return [];
    const pulses = pulsesOf(account);
    return pulses === null ? [] : [{ id, subject, subjectClass, account, pulses }];
  });
  const suspected = new Set(suspects.map(({ id }) => id));
  return suspects
    .filter(({ subject, subjectClass, account, pulses }) => {
      const others = site.signals
        .filter((one) => one.subject === subject && one.kind !== "stir" && !suspected.has(one.id))
        .flatMap(({ id }) => accounts.get(id)?.account ?? []);
      const told = others.map((other) => confirmedShare(account, other)).filter((share) => share !== null);
      if (told.length > 0) return told.every((share) => share < CONFIRMED_SHARE);
      return subjectClass === "person" || pulses.burstShare >= BURST_SHARE;
    })
    .map(({ id, subject, subjectClass, account, pulses }) => ({ signal: id, why: whyText(subject, subjectClass, account, pulses) }));
}

/** The same account, but unknown throughout, for rules too. */
export function silenced(told: SignalAccount): SignalAccount {
  const { start, end } = told.account;
  const nothing = canonicalTimeline(start, end, [start], [UNKNOWN]);
  return { ...told, account: nothing, live: nothing };
}

interface Pulses {
  readonly count: number;
  readonly onShare: number;
  readonly medianMs: number;
  /** Nine in ten are no longer than this. */
  readonly longMs: number;
  /** Of the pauses between them, those no longer than {@link BURST_MS}. */
  readonly burstShare: number;
}

/** Null unless nearly all of "on" are pulses, and many. */
function pulsesOf(account: Timeline): Pulses | null {
  const on = stretches(account, ON);
  const pulses = on.filter((one) => lengthOf(one) <= PULSE_MS && isBetweenOffs(account, one));
  const [onMs, offMs] = [totalMs(on), totalMs(stretches(account, OFF))];
  if (
    pulses.length < FEWEST_PULSES ||
    pulses.length < PULSE_SHARE * on.length ||
    onMs + offMs < LEAST_KNOWN_MS ||
    onMs > MOST_ON_SHARE * (onMs + offMs)
  )
    return null;
  const lengths = on.map(lengthOf).sort((a, b) => a - b);
  const pauses = pairs(on, (one, next) => next.from - one.to);
  return {
    count: on.length,
    onShare: onMs / (onMs + offMs),
    medianMs: lengths[lengths.length >>> 1]!,
    longMs: lengths[Math.ceil(PULSE_SHARE * lengths.length) - 1]!,
    burstShare: pauses.filter((pause) => pause <= BURST_MS).length / pauses.length,
  };
}

function isBetweenOffs({ times, states, end }: Timeline, { from, to }: Interval): boolean {
  const at = times.indexOf(from);
  return at > 0 && states[at - 1] === OFF && to < end && states[at + 1] === OFF;
}

/**
 * Of the time in which the other was on and this one known, the share in which this one was on too; null if the other
 * was hardly on.
 */
function confirmedShare(account: Timeline, other: Timeline): number | null {
  const totals = overlap(account, other);
  const [both, without] = [totals[ON * 3 + ON]!, totals[OFF * 3 + ON]!];
  return both + without < LEAST_OTHER_MS ? null : both / (both + without);
}

function whyText(
  subject: string,
  subjectClass: SubjectClass,
  { start, end }: Timeline,
  { count, onShare, medianMs, longMs }: Pulses,
): string {
  const { on, off } = stateWords[subjectClass];
  const days = Math.max(1, Math.round((end - start) / DAY_MS));
  return `in ${days} days it said ${count} times that ${subject} is ${on}, usually for ${minutes(medianMs)} and nine times in ten for no longer than ${minutes(longMs)}, and ${off} for ${Math.floor(100 * (1 - onShare))} % of the time`;
}

function minutes(ms: number): string {
  return ms < 1.5 * MINUTE_MS ? `${Math.max(1, Math.round(ms / SECOND_MS))} s` : `${Math.round(ms / MINUTE_MS)} min`;
}

function lengthOf({ from, to }: Interval): number {
  return to - from;
}
