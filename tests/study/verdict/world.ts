/** Milliseconds. */
export const SECOND = 1_000;
export const MINUTE = 60 * SECOND;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** `[from, to)`, epoch milliseconds. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** What a sensor says from `at` on: 0 off, 1 on, 2 nothing at all. */
export interface Step {
  readonly at: number;
  readonly says: 0 | 1 | 2;
}

/** A sensor with everything it said. */
export interface Sensor {
  readonly id: string;
  /** The subject it watches. */
  readonly on: string;
  /** Sensors of one source are written into the same export files. */
  readonly source: string;
  readonly kind: "phone" | "flag" | "contact" | "distance";
  /** The causes that the site file declares. */
  readonly shares: readonly string[];
  /** It repeats its state this often, and the site file says so; null: it only reports changes. */
  readonly everyMs: number | null;
  /** In order; the first at the beginning of the world. */
  readonly steps: readonly Step[];
}

/** One part of a rule's condition; all parts must be so. */
export type Part =
  | { readonly form: "turned"; readonly anyOf: readonly string[]; readonly withinMs: number }
  | { readonly form: "is"; readonly sensor: string; readonly says: 0 | 1; readonly heldMs: number };

/** A rule, and what makes it right: somebody (a bay) came at most so long ago, one of each group did, or all are off. */
export interface Rule {
  readonly name: string;
  readonly act: "unlock" | "lock";
  readonly parts: readonly Part[];
  readonly restMs: number;
  readonly right:
    | { readonly form: "came"; readonly subjects: readonly string[]; readonly withinMs: number }
    | { readonly form: "each came"; readonly groups: readonly (readonly string[])[]; readonly withinMs: number }
    | { readonly form: "all off"; readonly subjects: readonly string[] };
}

/** A subject with the stretches in which it truly was on (occupied, open, here); in order, apart from one another. */
export interface Subject {
  readonly id: string;
  readonly class: "bay" | "door" | "person";
  readonly on: readonly Span[];
}

/** A line of the diary. */
export interface Note extends Span {
  readonly subject: string;
  readonly on: boolean;
}

/** A stretch of time at one site: what was, what the sensors said, what was written down. */
export interface World extends Span {
  readonly place: "household" | "yard";
  readonly subjects: readonly Subject[];
  readonly sensors: readonly Sensor[];
  readonly diary: readonly Note[];
  readonly rule: Rule;
  /** Further rules, tried on the same history. */
  readonly tried: readonly Rule[];
  /** How the exports are cut into files and how their stamps are read. */
  readonly exporting: { readonly overlapping: boolean; readonly hoursOff: Readonly<Record<string, number>> };
}

/** Limits of the rule's act. */
export interface Limits {
  readonly wrongPerYear: number;
  readonly missedShare: number;
  readonly withinMs: number;
}
