/**
 * A rule's condition, ready to be evaluated. `ref` names a signal in a rule's `when` and a subject in `right_when`.
 * `every`, `some` and named expressions of the site file have been expanded; words like "occupied" have become on/off.
 */
export type Expression =
  | { readonly op: "all" | "any"; readonly of: readonly Expression[] }
  | { readonly op: "atLeast"; readonly count: number; readonly of: readonly Expression[] }
  | { readonly op: "not"; readonly of: Expression }
  | IsAtom
  | TurnedAtom;

/**
 * The signal or subject is in a state: now, all through the last `heldMs`, or at some instant of the last `recentlyMs`; or,
 * with `since` (then both are null), from a change of another signal on until now.
 */
export interface IsAtom {
  readonly op: "is";
  readonly ref: string;
  readonly state: 0 | 1;
  readonly heldMs: number | null;
  readonly recentlyMs: number | null;
  /** Absent where the condition does not ask. */
  readonly since?: Since;
}

/** The change of another signal from which on a state must last; the first `graceMs` after it do not count. */
export interface Since {
  readonly ref: string;
  readonly to: 0 | 1;
  readonly graceMs: number;
}

/** The signal or subject changed from the known opposite state to this one at most `withinMs` ago. */
export interface TurnedAtom {
  readonly op: "turned";
  readonly ref: string;
  readonly to: 0 | 1;
  readonly withinMs: number;
}
