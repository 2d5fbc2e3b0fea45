import type { ExportSample } from "../intake/sample-exports.js";
import type { SubjectClass } from "../site/site.js";
import type { BandFound } from "./bands.js";
import type { LayoutFound } from "./layout.js";
import type { DraftQuestion } from "./questions.js";
import type { WordsFound } from "./words.js";

/** The exports of one source: at least one. */
export type Tables = readonly [ExportSample, ...ExportSample[]];

/** How a device counts, and from when: as the person said it, or null with the question. */
export interface CountsFound {
  readonly written: "ms-since" | "s-since";
  readonly start: string | null;
  readonly question: DraftQuestion | null;
}

/** A group of exports with one header, delimiter and way of writing time. */
export interface FoundSource {
  readonly id: string;
  readonly tables: Tables;
  readonly header: readonly string[];
  /** The headers of later files in which columns have other names; absent where all have one. */
  readonly otherHeaders?: readonly (readonly string[])[];
  readonly timeColumn: number;
  /** The column of the time of day, where it has one of its own; in `tables` its text stands behind that of `timeColumn` already. */
  readonly timeOfDay?: number;
  /** Where rows count from the start of a device; in `tables` these counts are instants already, and `written` is that of instants. */
  readonly counts?: CountsFound;
  readonly written: string;
  readonly timeEvidence: string;
  readonly offsets: "all" | "some" | "none";
  readonly layout: LayoutFound;
  /** Names of columns that were not used. */
  readonly unused: readonly string[];
  /** Questions that its exports leave open. */
  readonly open: readonly DraftQuestion[];
}

/**
 * A signal's readings in time order, exact repeats gone. `stretches[i]` numbers the parts of the file that were
 * looked at: the time between two of them is no gap of the signal.
 */
export interface FoundReadings {
  readonly times: Float64Array;
  readonly texts: readonly string[];
  readonly stretches: Int32Array;
}

/** How near home counts as here, in metres. `scatterMetres`: 95 % of the rest at home lies within; null without any. */
export interface HereFound {
  readonly radiusMetres: number;
  readonly slackMetres: number;
  readonly scatterMetres: number | null;
}

/** How a signal is read. `here` is null where no home could be proposed. */
export type FoundReading =
  | {
      readonly form: "distance";
      readonly band: BandFound | null;
      readonly numbers: readonly number[];
      readonly odd: ReadonlyMap<string, number>;
    }
  | { readonly form: "words"; readonly words: WordsFound }
  | { readonly form: "position"; readonly here: HereFound | null };

/** One signal, before it is known what it watches. */
export interface FoundSignal {
  readonly id: string;
  readonly source: FoundSource;
  /** The text in the channel column, or the column's name. */
  readonly name: string;
  /** What else it is called in later rows; none for most. */
  readonly otherNames: readonly string[];
  /** What says most of what it is: the name, or that of the file where the column could be any sensor's. */
  readonly called: string;
  readonly columns: { readonly value: number } | { readonly latitude: number; readonly longitude: number };
  readonly readings: FoundReadings;
  readonly reading: FoundReading;
  /** 1 on, 0 off, NaN for what is neither; for words of unknown meaning the commoner word counts as on. */
  readonly states: Float64Array;
  readonly expect: { readonly ms: number; readonly share: number } | null;
}

/** What a signal is taken to watch, and why. */
export interface Placing {
  readonly signal: FoundSignal;
  readonly subject: string;
  readonly class: SubjectClass;
  /** It notices only that somebody stirs: of the kind `stir`. Absent for all others. */
  readonly stirs?: true;
  readonly evidence: string;
  /** A question that only the person can answer; null without one. */
  readonly open: DraftQuestion | null;
  /** For words without a meaning of their own: whether the first of the two is on; null when not known. */
  readonly direction: "as seen" | "reversed" | null;
}

/** A signal that seems to be of no bay, door or person, and why. */
export interface LeftOut {
  readonly signal: FoundSignal;
  readonly why: string;
}
