import type { KnownInstants } from "./known-instants.js";
import { SILENCE_FACTOR, type Outage } from "./silence.js";
import type { Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";

/**
 * This many signals of one shared cause must go dark together before the cause is blamed. Two can fail together by
 * chance or by a fault that only they share. Common practice, no source.
 */
const RESTART_SIGNALS = 3;

/**
 * Within this many milliseconds after a restart a signal's first word is its return and not news: a small board takes
 * up to a minute to find its network and report its state. Common practice, no source.
 */
const RETURN_WITHIN_MS = MINUTE_MS;

/** What must be known of a signal to find the restarts of a cause. */
export interface Speaker {
  /** Instants of its readings that are not lost: each proves that its causes were alive. */
  readonly known: KnownInstants;
  readonly outages: readonly Outage[];
  readonly expectMs: number | null;
}

/** A restart of a shared cause: `[from, to)`; `to` is Infinity when nothing of it was ever heard again. */
interface Restart extends Interval {
  /** The first word after it; between this and `to` the rest came back. */
  readonly firstReturn: number;
}

/** An outage with the index of its signal. */
interface SignalOutage extends Outage {
  readonly speaker: number;
}

/**
 * The restarts of one shared cause, in order and disjoint, from the signals that share it.
 *
 * Three or more different signals are one restart when either
 * - they *went dark together*: their instants of going dark can lie within `restartMs` of one another. A lost word is
 *   exact; a silent signal went dark at some instant between its last reading and one `expect` later (when the next was
 *   due), so that three meters which publish every three minutes at different seconds still count as one; or
 * - they *came back together*: all are dark just before the first of them returns, and return within `restartMs`. Hubs
 *   give up on their sensors one after another, but come back with all of them.
 *
 * If they went dark together, it begins as late as possible: at the latest last reading of its silent signals (until
 * then the cause was alive), or at the first "lost" if that came before. If they only came back together, it begins
 * when the last of them went dark, or when any signal of the cause last spoke, whichever is later. It ends with the
 * first known reading of *any* signal of the cause, or with the last of its own signals to return within `restartMs`
 * after that. So a cause on which others go on speaking has a very short restart, and a sensor that never comes back
 * does not keep its neighbours unknown.
 */
export function restartsOf(speakers: readonly Speaker[], restartMs: number): Restart[] {
  if (speakers.length < RESTART_SIGNALS) return [];
  const members = speakers.flatMap(({ outages }, speaker) => outages.map((outage): SignalOutage => ({ ...outage, speaker })));
  const together = [
    ...cliques(members, (one) => ({ from: one.from, to: one.darkBy + restartMs })).map((group) => wentDark(group, speakers, restartMs)),
    ...cliques(
      members.filter((one) => one.to < Infinity),
      (one) => ({ from: one.to, to: one.to + restartMs }),
    ).flatMap((group) => cameBack(group, speakers)),
  ];
  return merged(together);
}

/** One restart from outages that began together. */
function wentDark(group: readonly SignalOutage[], speakers: readonly Speaker[], restartMs: number): Restart {
  const latestFrom = Math.max(...group.map((one) => one.from));
  const aliveUntil = Math.max(...group.filter((one) => !one.lost).map((one) => one.from));
  const firstLost = Math.min(...group.filter((one) => one.lost).map((one) => one.from));
  const begin = aliveUntil === -Infinity ? firstLost : Math.min(aliveUntil, firstLost);
  // A barrier must reach into every outage it explains, even one that was over before the last began.
  const from = group.some((one) => one.to <= begin) ? Math.min(...group.map((one) => one.from)) : begin;
  const firstReturn = Math.min(...speakers.map(({ known }) => known.firstAfter(latestFrom)));
  const returns = group.map((one) => one.to).filter((to) => to <= firstReturn + restartMs);
  return { from, firstReturn, to: Math.max(firstReturn, ...returns) };
}

/** One restart from outages that ended together, if enough of them were dark just before the first ended. */
function cameBack(group: readonly SignalOutage[], speakers: readonly Speaker[]): Restart[] {
  const firstReturn = Math.min(...group.map((one) => one.to));
  const dark = group.filter((one) => one.from < firstReturn);
  if (distinct(dark) < RESTART_SIGNALS) return [];
  const lastWords = speakers.map(({ known }) => known.lastBefore(firstReturn));
  const from = Math.max(...dark.map((one) => one.from), ...lastWords);
  return [{ from, firstReturn, to: Math.max(...dark.map((one) => one.to)) }];
}

/**
 * The largest groups of members whose windows all share an instant (ends included), of {@link RESTART_SIGNALS}
 * different signals or more. A sweep over the windows' beginnings: a group is largest just before one of its windows
 * closes.
 */
function cliques(members: readonly SignalOutage[], windowOf: (one: SignalOutage) => Interval): SignalOutage[][] {
  const groups: SignalOutage[][] = [];
  let open: { member: SignalOutage; closes: number }[] = [];
  let grown = false;
  const emit = (): void => {
    const group = open.map((one) => one.member);
    if (grown && distinct(group) >= RESTART_SIGNALS) groups.push(group);
    grown = false;
  };
  const ordered = members.map((member) => ({ member, window: windowOf(member) })).toSorted((a, b) => a.window.from - b.window.from);
  for (const { member, window } of ordered) {
    if (open.some((one) => one.closes < window.from)) {
      emit();
      open = open.filter((one) => one.closes >= window.from);
    }
    open.push({ member, closes: window.to });
    grown = true;
  }
  emit();
  return groups;
}

function distinct(members: readonly SignalOutage[]): number {
  return new Set(members.map((one) => one.speaker)).size;
}

/** Overlapping or touching restarts are one. */
function merged(restarts: readonly Restart[]): Restart[] {
  const out: Restart[] = [];
  for (const one of restarts.toSorted((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last === undefined || one.from > last.to) out.push(one);
    else out[out.length - 1] = { from: last.from, to: Math.max(last.to, one.to), firstReturn: Math.max(last.firstReturn, one.firstReturn) };
  }
  return out;
}

/**
 * When one signal itself is back from a restart of its cause: never before the restart's end. A periodic signal is back
 * with its first reading; if that stays away until the signal counts as silent, the silence keeps it unknown and the
 * restart is over. A signal that only reports changes is back with its first word if that comes within
 * {@link RETURN_WITHIN_MS} after the end; otherwise it is back at the end, with its last state: a contact that has
 * nothing to report says nothing, and it might stay unknown for weeks until the door next moves. The risk: if the door
 * moved during the restart and the contact does not say so, its account is wrong until it next speaks, and if it says
 * so late, that looks like a turn.
 */
export function returnOf(speaker: Speaker, restart: Restart): number {
  if (restart.to === Infinity) return Infinity;
  const first = speaker.known.firstFrom(restart.firstReturn);
  if (first <= restart.to) return restart.to;
  const patience = speaker.expectMs === null ? RETURN_WITHIN_MS : SILENCE_FACTOR * speaker.expectMs;
  return first <= restart.to + patience ? first : restart.to;
}
