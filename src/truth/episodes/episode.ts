import { MINUTE_MS } from "../../ground/units.js";
import type { Basis } from "../reference/reference.js";

/**
 * A matched turn counts as agreeing while its lag stays within this, either way; beyond it is late or early.
 * A minute: half of the two minutes that an unlock is usually given, and about what settling costs a meter.
 */
export const LAG_TOLERANCE_MS = MINUTE_MS;

/** How one signal behaved at its subject's transition in an episode. */
export type ParticipantOutcome = "agreed" | "late" | "early" | "missed" | "fragmented" | "unknown";

/**
 * One signal in one episode. `lagSeconds` is positive when the signal turned after the reference; null without a
 * matched turn.
 */
export interface Participant {
  readonly signal: string;
  readonly subject: string;
  readonly outcome: ParticipantOutcome;
  readonly lagSeconds: number | null;
}

/**
 * One arrival or departure: reference transitions that belong together. Instants are epoch milliseconds.
 * `anchor` is the first bay transition, else the first person's; `[from, to]` spans all transitions, doors too,
 * from the earliest instant at which the first may have happened. `subjects` in order of their first movement.
 */
export interface Episode {
  /** `A001`, `D001`…: numbered by anchor within its kind. */
  readonly id: string;
  readonly kind: "arrival" | "departure";
  readonly anchor: number;
  readonly anchorSubject: string;
  readonly from: number;
  readonly to: number;
  readonly subjects: readonly string[];
  /** The weaker basis of the two sides of the anchor's transition. */
  readonly basis: Basis;
  readonly participants: readonly Participant[];
}

/** A stretch `[from, to)` in which a signal said on (or off) while a reference built without it knew better. */
export interface Phantom {
  readonly signal: string;
  readonly subject: string;
  readonly said: "on" | "off";
  readonly from: number;
  readonly to: number;
}
