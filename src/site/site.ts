import type { Expression } from "./expression.js";
import type { Stated } from "./stated.js";

/** The three sorts of thing that have a true on/off state. */
export type SubjectClass = "bay" | "door" | "person";

/** A thing with a true on/off state: on means occupied, open, here. */
export interface Subject {
  readonly id: string;
  readonly class: SubjectClass;
  /** The vehicle that belongs in a bay, as the site file names it. */
  readonly vehicle: string | null;
}

/**
 * What a sensor measures. `flag` is any plain yes/no signal that is none of the others. `stir` is one-sided: on proves that
 * somebody stirs, off proves nothing.
 */
export type SignalKind = "distance" | "contact" | "phone" | "position" | "flag" | "stir";

/** Units a distance may be exported in; everything past intake is metres. */
export type DistanceUnit = "m" | "cm" | "mm" | "ft" | "in";

/** How a signal's raw cells become a number; what is outside it is set aside. */
export type ValueReading =
  | { readonly form: "words"; readonly on: readonly string[]; readonly off: readonly string[] }
  | { readonly form: "distance"; readonly unit: DistanceUnit }
  | { readonly form: "position"; readonly homeLatitude: number; readonly homeLongitude: number };

/** Distances from one to the other, both included, in metres; `farMetres` may be Infinity. */
export interface DistanceRange {
  readonly nearMetres: number;
  readonly farMetres: number;
}

/** Where a signal's readings turn on. Metres for `distance` (nearMetres..farMetres) and `position` (0..radius). */
export interface Band {
  /** Both 0 where no vehicle was seen yet: no reading is in it. */
  readonly nearMetres: number;
  readonly farMetres: number;
  /** Once on, the band is this much wider at both ends (hysteresis). */
  readonly slackMetres: number;
  /** At or past this the meter heard no echo: off. Null where the site file does not say. */
  readonly maximumMetres: number | null;
  /**
   * Distance: where the readings of an empty bay lie, besides no echo. A reading neither there nor in the band is unknown.
   * Absent where the site file does not say: everything outside the band is then off.
   */
  readonly empty?: readonly DistanceRange[];
}

/** One sensor's account of one subject, as the site file declares it. Durations in milliseconds. */
export interface SignalSpec {
  readonly id: string;
  readonly subject: string;
  readonly source: string;
  readonly kind: SignalKind;
  /** Further sources that its readings are in; absent where there is one. */
  readonly otherSources?: readonly string[];
  /** What else it is or was called in the signal column; absent where it has one name. */
  readonly otherChannels?: readonly string[];
  /** Long layout: the text in the source's signal column. Wide layout: null. */
  readonly channel: string | null;
  readonly reading: ValueReading;
  /** Null for signals read by words. */
  readonly band: Band | null;
  /** A new state must last this long, uncontradicted, before the signal takes it on. */
  readonly settleMs: number;
  /** The longest usual time between readings; null for signals that only report changes. */
  readonly expectMs: number | null;
  /** Stirs: one counts for at most this long. Absent where only the sensor's own word for still ends it. */
  readonly lastsMs?: number;
  /** Shared causes: boards, supplies, hubs, networks. */
  readonly shares: readonly string[];
  /** Signals that the site file declares independent of this one, and why. Absent where none is declared. */
  readonly independent?: { readonly of: readonly string[]; readonly because: string };
  readonly model: string | null;
  /** A note that tells sensors of one model apart; absent where the site file has none. */
  readonly firmware?: string;
}

/** How time stamps are written. */
export type TimeWriting = "iso" | "epoch-s" | "epoch-ms" | { readonly pattern: string } | CountWriting;

/** Stamps that count from the start of a device: `startMs` in epoch milliseconds, `unitMs` the milliseconds of a count. */
export interface CountWriting {
  readonly counts: "s-since" | "ms-since";
  readonly unitMs: number;
  readonly startMs: number;
}

/** The columns a source's values come from. Position signals take two columns. */
export type SourceLayout =
  | {
      readonly form: "long";
      readonly signalColumn: string;
      readonly valueColumn: string | null;
      readonly latitudeColumn: string | null;
      readonly longitudeColumn: string | null;
    }
  | {
      readonly form: "wide";
      readonly columns: ReadonlyMap<string, { readonly value: string } | { readonly latitude: string; readonly longitude: string }>;
    };

/** A set of export files with one column layout and one clock. */
export interface Source {
  readonly id: string;
  /** As written in the site file: paths or globs relative to the site file's folder. */
  readonly files: readonly string[];
  readonly timeColumn: string;
  /** Where date and time stand in two columns: the second, whose text follows that of the first behind a space. Absent where one holds both. */
  readonly timeOfDayColumn?: string;
  readonly written: TimeWriting;
  /** IANA zone of stamps without an offset. */
  readonly zone: string;
  /** What to do with a local time that a clock change skipped: `set-aside`, or `shift` it forward by the gap. */
  readonly skippedHour: "set-aside" | "shift";
  readonly delimiter: string;
  /** The sign before the decimals of numbers in the exports. */
  readonly decimal: "." | ",";
  /** How text is written in bytes; null: UTF-8, or what a byte order mark or the zero bytes of UTF-16 show. */
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252" | null;
  readonly layout: SourceLayout;
  /** What a column is called in other files, by the name that stands for it here; absent where no column has two names. */
  readonly otherNames?: ReadonlyMap<string, readonly string[]>;
  /** Cells that say nothing: no news of this signal in this row. */
  readonly missing: readonly string[];
  /** Cells that say that the sensor itself does not know: the signal is unknown from there on. */
  readonly lost: readonly string[];
  /** Channels or columns that are known to be of nothing here; absent where none are named. */
  readonly leaveOut?: readonly string[];
  /** How much a `.gz` file may unpack to; absent where the site file says nothing. */
  readonly mostUnpackedBytes?: number;
  /** Added to every stamp of this source, as the site file asks (0 by default). */
  readonly clockCorrectionMs: number;
}

/** What a rule would do at the instant it turns true. */
export type Act = "unlock" | "lock" | "disarm" | "arm";

/** A rule as replayed. `when` refers to signals, `rightWhen` to subjects. */
export interface RuleSpec {
  readonly name: string;
  readonly act: Act;
  readonly when: Expression;
  /** What must truly hold for a firing to be right; the instants at which it begins to hold are the wanted ones. */
  readonly rightWhen: Expression;
  readonly rightWhenIsDefault: boolean;
  /** After a firing the rule stays quiet this long. */
  readonly restMs: number;
  /** What the user states about faults of its parts; absent where nothing is stated. It is no part of what the rule does. */
  readonly stated?: Stated;
  readonly line: number | null;
}

/** What the user accepts of rules of one act. */
export interface ActLimits {
  readonly wrongPerYear: number;
  /** The same as the user wrote it, where in words: `once in 2 years`. */
  readonly inWords?: string;
  /** A share, 0..1. */
  readonly missedShare: number;
  /** A wanted instant is served when the firing comes within this time of it. */
  readonly withinMs: number;
}

/** What the user accepts of a sensor before somebody is sent to it. */
export interface SensorLimits {
  /** Shares, 0..1, of the changes. */
  readonly missedShare: number;
  readonly falseShare: number;
  /** A share of the time. */
  readonly silentShare: number;
  readonly lateMs: number;
}

/** One household or depot. */
export interface Site {
  readonly name: string;
  readonly file: string;
  readonly folder: string;
  readonly timeZone: string;
  readonly sources: readonly Source[];
  readonly subjects: readonly Subject[];
  readonly signals: readonly SignalSpec[];
  readonly rules: readonly RuleSpec[];
  /** Confidence of every interval and bound, e.g. 0.95. */
  readonly confidence: number;
  readonly limits: Readonly<Partial<Record<Act, ActLimits>>>;
  /** Absent where the site file says nothing: see `sensorLimitsOf`. */
  readonly sensorLimits?: SensorLimits;
  /** Paths or globs of diary files (CSV: subject,state,from,to), relative to the site file's folder. */
  readonly diary: readonly string[];
  /** A gap up to this long between off and on still counts as a turn, with an uncertain instant. */
  readonly bridgeMs: number;
  /** Reference transitions this close together belong to one episode. */
  readonly joinMs: number;
  /** Signals of one shared cause that go unknown within this time of one another restarted together. */
  readonly restartMs: number;
}

/** All sources that a signal's readings are in. */
export function sourcesOf({ source, otherSources }: SignalSpec): readonly string[] {
  return otherSources === undefined ? [source] : [source, ...otherSources];
}
