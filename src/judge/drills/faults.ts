import type { Fault } from "../../result/trials.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../timeline/timeline.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { heardLive } from "../replay/replay.js";
import type { Resolved } from "../rule/evaluate.js";

/**
 * Flapping and restarts come this often. With 61 minutes instead of 60 they move through the hour, so that no habit of
 * the house always or never meets one. Our own choice.
 */
const FAULT_EVERY_MS = 61 * MINUTE_MS;
/** The first one comes this long after the history begins. Our own choice. */
const FIRST_FAULT_AFTER_MS = 30 * MINUTE_MS;
/** In a burst of flapping the signal goes to the opposite and back this many times. Our own choice. */
const FLAPS_IN_BURST = 3;
/**
 * How long each flap stays at the opposite, and how long back. Longer than the 20 s or so for which distances settle.
 * Our own choice.
 */
const FLAP_MS = 30 * SECOND_MS;
/**
 * A restart lasts this long: below the usual bridge of one minute, so that a rule that bridges gaps is put to the test.
 * Our own choice.
 */
const RESTART_LASTS_MS = 45 * SECOND_MS;

const lateByMs: Partial<Record<Fault, number>> = { "late by 1 min": MINUTE_MS, "late by 5 min": 5 * MINUTE_MS, "late by 15 min": 15 * MINUTE_MS };

/** By how much a fault makes everything late; 0 for the others. */
export function latenessMs(fault: Fault): number {
  return lateByMs[fault] ?? 0;
}

/** A signal's live history with a fault in it. */
export type FaultedHistories = (account: SignalAccount, fault: Fault) => Resolved;

/** Puts each fault into each signal once, however many rules and shared causes ask for it. */
export function makeFaultedHistories(): FaultedHistories {
  const made = new Map<SignalAccount, Map<Fault, Resolved>>();
  return (account, fault) => {
    const ofAccount = made.get(account) ?? new Map<Fault, Resolved>();
    made.set(account, ofAccount);
    const history = ofAccount.get(fault) ?? withFault(heardLive(account), fault);
    ofAccount.set(fault, history);
    return history;
  };
}

/**
 * The history with the fault in it, all through. What is unknown stays unknown: the fault is in what the sensor says,
 * and the connection fails as it did.
 * - stuck: every known state becomes on (or off);
 * - late: everything, outages included, comes later by that much; until then the first state stands;
 * - silent: nothing was ever heard of it;
 * - flapping: in bursts (see {@link flapsOver}) it says the opposite;
 * - restart: at regular times (see {@link restartsOver}) it is unknown for a while and back at once, and nothing tells
 *   the rule that it was a restart: no barrier is added.
 * Linear in the steps of the history and the number of bursts.
 */
function withFault({ timeline, barriers }: Resolved, fault: Fault): Resolved {
  switch (fault) {
    case "stuck on":
    case "stuck off": {
      const stuck = fault === "stuck on" ? ON : OFF;
      return { timeline: mapped(timeline, (state) => (state === UNKNOWN ? UNKNOWN : stuck)), barriers };
    }
    case "late by 1 min":
    case "late by 5 min":
    case "late by 15 min":
      return shifted({ timeline, barriers }, latenessMs(fault));
    case "silent":
      return { timeline: mapped(timeline, () => UNKNOWN), barriers: [] };
    case "flapping":
      return { timeline: overlaid(timeline, flapsOver(timeline), (state) => (state === UNKNOWN ? UNKNOWN : state === ON ? OFF : ON)), barriers };
    case "restart":
      return { timeline: overlaid(timeline, restartsOver(timeline), () => UNKNOWN), barriers };
  }
}

/**
 * When a flapping signal says the opposite: bursts of {@link FLAPS_IN_BURST} flaps, one burst every
 * {@link FAULT_EVERY_MS}.
 */
function flapsOver(extent: Pick<Timeline, "start" | "end">): Interval[] {
  return faultTimes(extent).flatMap((burst) =>
    Array.from({ length: FLAPS_IN_BURST }, (_, i) => ({ from: burst + 2 * i * FLAP_MS, to: burst + (2 * i + 1) * FLAP_MS })),
  );
}

/** When a restarting signal is unknown: {@link RESTART_LASTS_MS} every {@link FAULT_EVERY_MS}. */
function restartsOver(extent: Pick<Timeline, "start" | "end">): Interval[] {
  return faultTimes(extent).map((from) => ({ from, to: from + RESTART_LASTS_MS }));
}

function faultTimes({ start, end }: Pick<Timeline, "start" | "end">): number[] {
  const first = start + FIRST_FAULT_AFTER_MS;
  return Array.from({ length: Math.max(0, Math.ceil((end - first) / FAULT_EVERY_MS)) }, (_, i) => first + i * FAULT_EVERY_MS);
}

function mapped(x: Timeline, state: (state: TruthState) => TruthState): Timeline {
  return canonicalTimeline(
    x.start,
    x.end,
    x.times,
    x.states.map((one) => state(one as TruthState)),
  );
}

/** The first state is extended over the new beginning, so that the delay itself looks like no change. */
function shifted({ timeline, barriers }: Resolved, lateMs: number): Resolved {
  const times = timeline.times.map((at, i) => (i === 0 ? at : at + lateMs));
  return {
    timeline: canonicalTimeline(timeline.start, timeline.end, times, timeline.states),
    barriers: barriers.map(({ from, to }) => ({ from: from + lateMs, to: to + lateMs })),
  };
}

/**
 * `x` with its state changed by `during` inside the stretches, which must be in order and disjoint. One pass over both.
 */
function overlaid(x: Timeline, inside: readonly Interval[], during: (state: TruthState) => TruthState): Timeline {
  const room = x.times.length + 2 * inside.length;
  const times = new Float64Array(room);
  const states = new Uint8Array(room);
  let written = 0;
  let step = -1;
  let boundary = 0;
  while (step + 1 < x.times.length || boundary < 2 * inside.length) {
    const nextStep = x.times[step + 1] ?? Infinity;
    const stretch = inside[boundary >>> 1];
    const nextBoundary = stretch === undefined ? Infinity : boundary % 2 === 0 ? stretch.from : stretch.to;
    const at = Math.min(nextStep, nextBoundary);
    if (nextStep === at) step += 1;
    if (nextBoundary === at) boundary += 1;
    const state = x.states[step] as TruthState;
    times[written] = at;
    states[written] = boundary % 2 === 1 ? during(state) : state;
    written += 1;
  }
  return canonicalTimeline(x.start, x.end, times.subarray(0, written), states.subarray(0, written));
}
