/** The subject is in its off state: bay empty, door closed, person away. */
export const OFF = 0;
/** The subject is in its on state: bay occupied, door open, person here. */
export const ON = 1;
/** The state cannot be told: before the first reading, in a silence, after a restart. Unknown is never "away". */
export const UNKNOWN = 2;

/** Kleene's three truth values, as stored in a timeline. */
export type TruthState = typeof OFF | typeof ON | typeof UNKNOWN;

/** What the states are called in results. */
export const stateNames = { [OFF]: "off", [ON]: "on", [UNKNOWN]: "unknown" } as const satisfies Record<TruthState, string>;

/**
 * A step function of time with three values. `states[i]` holds on `[times[i], times[i + 1])`, the last one until `end`.
 * Instants are epoch milliseconds UTC. Canonical: `times[0] === start`, times strictly rise and lie before `end`,
 * no two neighbours have equal states. `start < end`, so there is at least one step. Never changed after it is made.
 */
export interface Timeline {
  readonly start: number;
  readonly end: number;
  readonly times: Float64Array;
  readonly states: Uint8Array;
}

/** A change to a known state. It happened in `[earliest, at]`; the two differ only when a short gap was bridged. */
export interface Turn {
  readonly at: number;
  readonly earliest: number;
}
