import type { Site, SubjectClass } from "../../site/site.js";
import { stateWords } from "../../site/state-words.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { overlap } from "../../timeline/overlap.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { SignalAccount } from "./account.js";
import type { Interval } from "../../ground/intervals.js";

/** A signal that notices only movement: its "on" means something, its "off" nothing. */
export interface OneSided {
  readonly signal: string;
  /** What was seen, in a sentence with its figures. */
  readonly why: string;
}

/** A stretch of "on" up to this long is a pulse (milliseconds): a movement sensor holds for some minutes. Our own choice. */
const PULSE_MS = 15 * 60_000;
/** So many pulses at least, each between two stretches of "off": fewer may be short visits. Our own choice. */
const FEWEST_PULSES = 20;
/** At least this share of the stretches of "on" are pulses. Our own choice. */
const PULSE_SHARE = 0.9;
/** "On" holds for at most this share of the known time: a phone that flaps all day holds for longer. Our own choice. */
const MOST_ON_SHARE = 0.25;
/** Nothing is told from less known time than this (milliseconds). Our own choice. */
const LEAST_KNOWN_MS = 3 * 86_400_000;
/** Two sensors bear one another out when one is on for this share of the time in which the other is. Our own choice. */
const BORNE_OUT_SHARE = 0.5;
/** Another signal's word is asked for where it was on for so long in all (milliseconds). Our own choice. */
const LEAST_OTHER_MS = 5 * 3_600_000;
/** Vehicles may come for minutes only. Without another signal a bay's pulses are movement when this share of the pauses between them is no longer than {@link BURST_MS}. Our own choices. */
const BURST_SHARE = 0.4;
const BURST_MS = 10 * 60_000;

/**
 * Signals by words on persons and bays that say "on" in short pulses only, again and again, and "off" in nearly all the rest: what a movement
 * sensor does that is entered as if it knew both states. Another signal of the same subject that was on at the same
 * times bears the short visits out; one that was on for hours meanwhile shows that "off" means nothing. Where no other tells, a
 * person who is never here for more than minutes is not believed, and a bay's pulses must come in bursts. Doors open for seconds and are
 * never among them. In the site file's order.
 */
export function oneSided(site: Pick<Site, "signals" | "subjects">, accounts: ReadonlyMap<string, SignalAccount>): OneSided[] {
  const classes = new Map(site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  const suspects = site.signals.flatMap(({ id, subject, reading }) => {
    const [subjectClass, account] = [classes.get(subject), accounts.get(id)?.account];
    if (reading.form !== "words" || subjectClass === undefined || subjectClass === "door" || account === undefined) return [];
    const pulses = pulsesOf(account);
    return pulses === null ? [] : [{ id, subject, subjectClass, account, pulses }];
  });
  const suspected = new Set(suspects.map(({ id }) => id));
  return suspects
    .filter(({ subject, subjectClass, account, pulses }) => {
      const others = site.signals.filter((one) => one.subject === subject && !suspected.has(one.id)).flatMap(({ id }) => accounts.get(id)?.account ?? []);
      const told = others.map((other) => bornOut(account, other)).filter((share) => share !== null);
      if (told.length > 0) return told.every((share) => share < BORNE_OUT_SHARE);
      return subjectClass === "person" || pulses.burstShare >= BURST_SHARE;
    })
    .map(({ id, subject, subjectClass, account, pulses }) => ({ signal: id, why: whyText(subject, subjectClass, account, pulses) }));
}

/** The same account as one that knows nothing: unknown throughout, for rules too. */
export function silenced(told: SignalAccount): SignalAccount {
  const { start, end } = told.account;
  const nothing = canonicalTimeline(start, end, [start], [UNKNOWN]);
  return { ...told, account: nothing, live: nothing };
}

interface Pulses {
  readonly count: number;
  readonly onShare: number;
  readonly medianMs: number;
  /** Nine in ten are no longer. */
  readonly longMs: number;
  /** Of the pauses between them, those no longer than {@link BURST_MS}. */
  readonly burstShare: number;
}

/** Null unless nearly all of "on" are pulses, and many. */
function pulsesOf(account: Timeline): Pulses | null {
  const on = stretches(account, ON);
  const pulses = on.filter((one) => lengthOf(one) <= PULSE_MS && isBetweenOffs(account, one));
  const [onMs, offMs] = [totalOf(on), totalOf(stretches(account, OFF))];
  if (pulses.length < FEWEST_PULSES || pulses.length < PULSE_SHARE * on.length || onMs + offMs < LEAST_KNOWN_MS || onMs > MOST_ON_SHARE * (onMs + offMs)) return null;
  const lengths = on.map(lengthOf).sort((a, b) => a - b);
  const pauses = on.slice(1).map(({ from }, i) => from - on[i]!.to);
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

/** Of the time in which the other was on and this one knew, the share in which it was on too; null where the other was hardly on. */
function bornOut(account: Timeline, other: Timeline): number | null {
  const totals = overlap(account, other);
  const [both, without] = [totals[ON * 3 + ON]!, totals[OFF * 3 + ON]!];
  return both + without < LEAST_OTHER_MS ? null : both / (both + without);
}

function whyText(subject: string, subjectClass: SubjectClass, { start, end }: Timeline, { count, onShare, medianMs, longMs }: Pulses): string {
  const { on, off } = stateWords[subjectClass];
  const days = Math.max(1, Math.round((end - start) / 86_400_000));
  return `in ${days} days it said ${count} times that ${subject} is ${on}, for ${minutes(medianMs)} at the median and nine times in ten for no longer than ${minutes(longMs)}, and ${off} in ${Math.floor(100 * (1 - onShare))} % of the time`;
}

function minutes(ms: number): string {
  return ms < 90_000 ? `${Math.max(1, Math.round(ms / 1000))} s` : `${Math.round(ms / 60_000)} min`;
}

function lengthOf({ from, to }: Interval): number {
  return to - from;
}

function totalOf(list: readonly Interval[]): number {
  return list.reduce((sum, one) => sum + lengthOf(one), 0);
}
