import type { SignalKind } from "../../site/site.js";

/** How long after its subject a signal turns, in milliseconds. Negative: it turns that long before, as a phone may. */
export interface LagRange {
  readonly leastMs: number;
  readonly mostMs: number;
}

/** The lag of every signal that a rule names, by signal. */
export type SignalLags = ReadonlyMap<string, LagRange>;

/** A true change of a subject, and when its signals tell it. Milliseconds after the rule acts: negative is before it. */
export interface SceneChange {
  readonly at: number;
  /** Each signal of the rule on this subject. Positive: it has not told yet when the rule acts. */
  readonly told: readonly { readonly signal: string; readonly at: number }[];
}

/** What one subject does in a scene: the state it begins in, and its changes in time order, each to the other state. */
export interface SceneSubject {
  readonly subject: string;
  readonly first: 0 | 1;
  readonly changes: readonly SceneChange[];
}

/** One change of a scene: the subject, and the position of the change among those of the subject. */
export interface ChangePlace {
  readonly subject: string;
  readonly change: number;
}

/** A course of events in which every sensor tells the truth within its lag, and the rule acts wrongly at instant 0. */
export interface GapScene {
  /** The scene in plain words. */
  readonly text: string;
  /** How many true changes it takes. No gap takes fewer. */
  readonly changes: number;
  /** The change that makes the rule act, by being told or by having been told long enough ago. */
  readonly trigger: ChangePlace;
  /** Of the other changes, the one whose time is most confined. Null where none is confined. */
  readonly free: ChangePlace | null;
  /**
   * How long the time is within which the free change may happen and leave the scene a gap, its signals telling it as
   * late as it takes. Two independent changes make such a scene at most as often as the product of their rates and this
   * width. Null where there is no free change: then the scene comes whenever its trigger is told with such a lag.
   */
  readonly widthMs: number | null;
  /** Every subject of the rule and of what makes it right, in the order of the condition. */
  readonly subjects: readonly SceneSubject[];
}

/** How late the signals of one kind may tell before a gap opens, those of the other kinds staying as they are. */
export interface GapFreeLag {
  readonly kind: SignalKind;
  /** The rule's signals of this kind, sorted. */
  readonly signals: readonly string[];
  /** There is no gap up to this lag, to the second. Null where the lag of this kind sets no such limit. */
  readonly untilMs: number | null;
  /**
   * Why it ends there. `gap`: a second more opens one. `no-gap`: none was found up to an hour. `gap-anyway`: there is
   * one even if these signals tell at once.
   */
  readonly ends: "gap" | "no-gap" | "gap-anyway";
}

/** Whether a rule can act wrongly while every sensor tells the truth within its lag. */
export interface GapSearch {
  /** False where the question was left open; `why` then says so, and nothing else here means anything. */
  readonly searched: boolean;
  readonly why: string | null;
  /** The gap with the fewest changes. Null when there is none. */
  readonly scene: GapScene | null;
  readonly gapFreeUntil: readonly GapFreeLag[];
}
