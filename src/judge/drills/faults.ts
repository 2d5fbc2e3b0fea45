import type { Fault } from "../../result/trial-schema.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../timeline/timeline.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";


/**
 * Flapping and restarts come this often. Each hour of the year gets one, and 61 minutes instead of 60 make them wander
 * through the hour, so that no habit of the house always or never meets one. Our own choice.
 */
export const FAULT_EVERY_MS = 61 * MINUTE_MS;
/** The first one comes this long after the history begins. Our own choice. */
export const FIRST_FAULT_AFTER_MS = 30 * MINUTE_MS;
/** A burst of flapping: so many times over to the opposite and back. Our own choice. */
export const FLAPS_IN_BURST = 3;
/** How long each flap stays over, and how long back. Longer than the 20 s or so for which distances settle. Our own choice. */
export const FLAP_MS = 30_000;
/** A restart lasts this long: below the usual bridge of one minute, so that a rule that bridges gaps is put to the test. Our own choice. */
export const RESTART_LASTS_MS = 45_000;

const lateByMs = { "late by 1 min": MINUTE_MS, "late by 5 min": 5 * MINUTE_MS, "late by 15 min": 15 * MINUTE_MS } as const;

/** By how much a fault makes everything late; 0 for the others. */
export function latenessMs(fault: Fault): number {
  return fault === "late by 1 min" || fault === "late by 5 min" || fault === "late by 15 min" ? lateByMs[fault] : 0;
}

/** A signal's history as a rule sees it: its states, and the outages over which no turn is believed. */
export interface SignalHistory {
  readonly timeline: Timeline;
  readonly barriers: readonly Interval[];
}

/**
 * The history with the fault in it, all through. What is unknown stays unknown: the fault is in what the sensor says, and
 * whatever carries its words fails as it did.
 * - stuck: every known state becomes on (or off);
 * - late: everything, outages included, comes so much later; until then the first state stands;
 * - silent: nothing was ever heard of it;
 * - flapping: in bursts (see {@link flapsOver}) it says the opposite;
 * - restart: at regular times (see {@link restartsOver}) it is unknown for a while and back at once, and nobody has told the
 *   rule that it was a restart: no barrier is added.
 * Linear in the steps of the history and the number of bursts.
 */
export function withFault({ timeline, barriers }: SignalHistory, fault: Fault): SignalHistory {
  switch (fault) {
    case "stuck on":
    case "stuck off": {
      const stuck = fault === "stuck on" ? ON : OFF;
      return { timeline: mapped(timeline, (state) => (state === UNKNOWN ? UNKNOWN : stuck)), barriers };
    }
    case "late by 1 min":
    case "late by 5 min":
    case "late by 15 min":
      return shifted({ timeline, barriers }, lateByMs[fault]);
    case "silent":
      return { timeline: mapped(timeline, () => UNKNOWN), barriers: [] };
    case "flapping":
      return { timeline: overlaid(timeline, flapsOver(timeline), (state) => (state === UNKNOWN ? UNKNOWN : state === ON ? OFF : ON)), barriers };
    case "restart":
      return { timeline: overlaid(timeline, restartsOver(timeline), () => UNKNOWN), barriers };
  }
}

/** When a flapping signal says the opposite: bursts of {@link FLAPS_IN_BURST} flaps, one burst every {@link FAULT_EVERY_MS}. */
export function flapsOver(extent: Pick<Timeline, "start" | "end">): Interval[] {
  return faultTimes(extent).flatMap((burst) =>
    Array.from({ length: FLAPS_IN_BURST }, (_, i) => ({ from: burst + 2 * i * FLAP_MS, to: burst + (2 * i + 1) * FLAP_MS })),
  );
}

/** When a restarting signal is unknown: {@link RESTART_LASTS_MS} every {@link FAULT_EVERY_MS}. */
export function restartsOver(extent: Pick<Timeline, "start" | "end">): Interval[] {
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

/** The first state is drawn out over the beginning: time before the history is no reason for a rule to see something change. */
function shifted({ timeline, barriers }: SignalHistory, lateMs: number): SignalHistory {
  const times = timeline.times.map((at, i) => (i === 0 ? at : at + lateMs));
  return {
    timeline: canonicalTimeline(timeline.start, timeline.end, times, timeline.states),
    barriers: barriers.map(({ from, to }) => ({ from: from + lateMs, to: to + lateMs })),
  };
}

/** `x` with its state changed by `during` inside the stretches, which must be in order and disjoint. One pass over both. */
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
