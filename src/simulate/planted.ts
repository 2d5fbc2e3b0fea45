import type { Timeline } from "../timeline/timeline.js";
import type { Sensor } from "./scenario.js";
import type { Interval } from "../ground/intervals.js";

/** The faults planted in one sensor, and their effects. Counts and stretches cover the exports, lead included. */
export interface PlantedSignal {
  readonly signal: string;
  readonly subject: string;
  readonly kind: Sensor["kind"];
  readonly source: string;
  readonly shares: readonly string[];
  /** The faults as the scenario asks for them: the planted rates. */
  readonly rates: Sensor["faults"];
  /** True transitions of the subject in the exports' time. */
  readonly trueOn: number;
  readonly trueOff: number;
  /** True on (off) stretches without a trace: drawn as missed, swallowed by their own lag, or a vehicle outside the band. */
  readonly missedOn: readonly Interval[];
  readonly missedOff: readonly Interval[];
  /** Stretches in which it says on (off) without cause, and the time in which that could happen, in milliseconds. */
  readonly phantomsOn: readonly Interval[];
  readonly phantomsOff: readonly Interval[];
  readonly phantomOnExposureMs: number;
  readonly phantomOffExposureMs: number;
  /** Realised lags of the transitions it did report, in milliseconds. */
  readonly lagsOnMs: readonly number[];
  readonly lagsOffMs: readonly number[];
  readonly bounces: number;
  readonly hatches: readonly Interval[];
  readonly stuck: readonly Interval[];
  readonly silences: readonly Interval[];
  readonly restarts: readonly (Interval & { readonly cause: string })[];
  readonly freezes: readonly (Interval & { readonly cause: string })[];
  /** Periodic readings that were lost, and readings that were written (before any dirt). */
  readonly dropouts: number;
  readonly readings: number;
  /** The state it reports, faults included; unknown while it is silent. */
  readonly said: Timeline;
}

/** The dirt in one source's files. */
export interface PlantedDirt {
  readonly rows: number;
  /** Rows that are in two files. */
  readonly repeated: number;
  readonly misplaced: number;
  readonly unreadable: number;
}

/** Everything planted by the scenario, for a test to compare an audit with. */
export interface Planted {
  /** The period to audit, and the span of the exports. */
  readonly period: Interval;
  readonly exports: Interval;
  readonly truth: ReadonlyMap<string, Timeline>;
  readonly signals: ReadonlyMap<string, PlantedSignal>;
  readonly sources: ReadonlyMap<string, PlantedDirt>;
  /** Stays of vehicles that are not the bay's own. */
  readonly strangers: readonly { readonly bay: string; readonly stay: Interval }[];
}
