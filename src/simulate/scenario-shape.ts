import { IANAZone } from "luxon";
import { z } from "zod";
import { parseDurationMs } from "../ground/duration.js";
import { dayNames, type DayName } from "./local-calendar.js";

const durationMs = z.string().transform((text, context): number => {
  const ms = parseDurationMs(text);
  if (ms !== null && ms >= 0) return ms;
  context.addIssue({ code: "custom", message: `Expected a duration such as 40s, 3min, 2h or 10d; found "${text}"`, input: text });
  return z.NEVER;
});
const id = z.string().regex(/^[\p{L}\p{N}][\p{L}\p{N}_-]*$/u, "Expected a name of letters, digits, - and _");
const date = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, "Expected a date such as 2026-10-25");
const wallTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, "Expected a local time such as 07:45");
const localInstant = z.string().regex(/^\d{4}-\d{2}-\d{2} ([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, "Expected a local date and time such as 2026-10-25 07:45");
const share = z.number().min(0).max(1);
const range = z.tuple([durationMs, durationMs]);

const days = z.union([z.enum(["daily", "weekdays", "weekends"]), z.array(z.enum(dayNames)).min(1)]).transform((value): readonly DayName[] => {
  if (value === "daily") return dayNames;
  if (value === "weekdays") return dayNames.slice(0, 5);
  if (value === "weekends") return dayNames.slice(5);
  return value;
});

/** What a trip (out and back), a stay (in and out again) and an opening have in common. */
const movementParts = {
  name: z.string().min(1),
  who: z.array(id).default([]),
  /** The bay whose vehicle moves; absent means on foot. */
  bay: id.optional(),
  /** The door passed; absent means a way that no sensor watches. */
  through: id.optional(),
  leaves: wallTime.optional(),
  away: durationMs.optional(),
  arrives: wallTime.optional(),
  stays: durationMs.optional(),
  opens: wallTime.optional(),
  for: durationMs.optional(),
  /** Spread of the first instant and of the length: most fall within this much of what is written. */
  jitter: durationMs.optional(),
  length_jitter: durationMs.optional(),
};

const movementRule = (value: { leaves?: unknown; arrives?: unknown; opens?: unknown; away?: unknown; stays?: unknown; for?: unknown; through?: unknown; who: readonly unknown[]; bay?: unknown }, context: z.RefinementCtx): void => {
  const say = (message: string): void => context.addIssue({ code: "custom", message, input: value });
  const pairs = [["leaves", "away"], ["arrives", "stays"], ["opens", "for"]] as const;
  const given = pairs.filter(([first]) => value[first] !== undefined);
  if (given.length !== 1) { say("Expected one of: leaves with away (out and back), arrives with stays (in and out), opens with for (a door)"); return; }
  for (const [first, second] of pairs) {
    if ((value[first] === undefined) !== (value[second] === undefined)) say(`Expected ${first} and ${second} together`);
  }
  if (value.opens !== undefined && value.through === undefined) say("Expected through: the door that opens");
  if (value.opens === undefined && value.who.length === 0 && value.bay === undefined) say("Expected who or bay: no person or vehicle moves here");
};

const routineShape = z.strictObject({ ...movementParts, days, chance: share.default(1) }).superRefine(movementRule);
const eventShape = z
  .strictObject({
    ...movementParts,
    on: date,
    /** What distance meters read over this event's vehicle, in each meter's own unit, where it differs from the bay's own vehicle. */
    reads: z.record(id, z.number()).default({}),
  })
  .superRefine(movementRule);

const occasional = z.strictObject({ per_30_days: z.number().min(0), mean: durationMs, between: z.tuple([wallTime, wallTime]).optional() });
const lagShape = z.strictObject({
  median: durationMs,
  /** Standard deviation of the lag's logarithm. */
  spread: z.number().min(0).default(0.4),
  /** With this chance, an exponential with this mean comes on top. */
  tail: z.strictObject({ chance: share, mean: durationMs }).optional(),
});
const stretchShape = { from: localInstant, for: durationMs };

const faultsShape = z.strictObject({
  /** Chance that an on stretch of the truth is not noticed at all; `miss_off` the same of an off stretch. */
  miss: share.default(0),
  miss_off: share.default(0),
  /** Says on while the truth is off; `phantom_off` the other way round. Rates are per 30 days of time in which it can happen. */
  phantom: occasional.optional(),
  phantom_off: occasional.optional(),
  lag: z.strictObject({ on: lagShape.optional(), off: lagShape.optional() }).default({}),
  stuck: z.array(z.strictObject({ ...stretchShape, at: z.enum(["on", "off", "held"]) })).default([]),
  silences: z.array(z.strictObject(stretchShape)).default([]),
  silence: occasional.optional(),
  /** Chance that a periodic reading is lost. */
  dropout: share.default(0),
  /** Chance that a change of state is followed by one second of the old state. */
  bounce: share.default(0),
  /** After an arrival: a hatch or lid held under the meter shifts the reading by between these two amounts (own unit). */
  hatch: z.strictObject({ chance: share, shift: z.tuple([z.number(), z.number()]), mean: durationMs }).optional(),
});

const distanceReads = z.strictObject({
  occupied: z.number().positive(),
  empty: z.number().positive(),
  noise: z.number().min(0).default(0),
  maximum: z.number().positive().optional(),
  decimals: z.int().min(0).max(6).default(2),
});
const wordReads = z.strictObject({ on: z.string().min(1), off: z.string().min(1) });
const positionReads = z.strictObject({
  latitude: z.number().min(-90).max(90),
  longitude: z.number().min(-180).max(180),
  noise_metres: z.number().min(0).default(15),
  away_metres: z.number().positive().default(4000),
});

const sensorParts = {
  on: id,
  source: id,
  channel: z.string().optional(),
  column: z.string().optional(),
  columns: z.strictObject({ latitude: z.string(), longitude: z.string() }).optional(),
  shares: z.array(id).default([]),
  /** Reports at this interval; absent: only when something changes. */
  every: durationMs.optional(),
  /** Reports a change at once; false: only at its interval. */
  on_change: z.boolean().default(true),
  faults: faultsShape.prefault({}),
  /** Copied unchanged into the site file: present, slack, settle, expect, maximum, model… */
  site: z.record(z.string(), z.unknown()).default({}),
};
const sensorShape = z.discriminatedUnion("kind", [
  z.strictObject({ ...sensorParts, kind: z.literal("distance"), unit: z.enum(["m", "cm", "mm", "ft", "in"]), reads: distanceReads }),
  z.strictObject({ ...sensorParts, kind: z.literal("contact"), reads: wordReads }),
  z.strictObject({ ...sensorParts, kind: z.literal("phone"), reads: wordReads }),
  z.strictObject({ ...sensorParts, kind: z.literal("flag"), reads: wordReads }),
  z.strictObject({ ...sensorParts, kind: z.literal("position"), reads: positionReads }),
]);

const sourceShape = z.strictObject({
  /** Path in the output folder; a `*` stands for the first day of each part where the export comes in parts. `.gz`: the caller compresses. */
  files: z.string().regex(/^(?!\/)(?!.*\.\.)[^*]*\*?[^*]*\.csv(\.gz)?$/, "Expected a path below the output folder, ending in .csv or .csv.gz, with at most one *"),
  /** Length of a part; absent: one file. */
  split: durationMs.optional(),
  /** Rows that a part repeats from the end of the part before. */
  overlap: z.int().min(0).default(0),
  time: z.strictObject({ column: z.string().min(1), written: z.string().min(1) }),
  /** Long layout: the columns of channel and value. Wide layout: absent, and each sensor names its column. */
  signal: z.string().optional(),
  value: z.string().optional(),
  latitude: z.string().optional(),
  longitude: z.string().optional(),
  delimiter: z.string().length(1).default(","),
  missing: z.array(z.string()).default([""]),
  lost: z.array(z.string().min(1)).default([]),
  /** The clock of this source is wrong by this much. */
  ahead: durationMs.default(0),
  behind: durationMs.default(0),
  dirt: z
    .strictObject({
      /** Chance that a row comes a few rows too late. */
      disorder: share.default(0),
      /** Chance that a row is followed by one whose value cannot be read. */
      unreadable: share.default(0),
      words: z.array(z.string().min(1)).min(1).default(["--", "err"]),
    })
    .prefault({}),
  site: z.record(z.string(), z.unknown()).default({}),
});

const causeShape = z.strictObject({
  /** All its sensors fall silent, then all report what they see. */
  restarts: z
    .array(
      z.strictObject({
        at: localInstant,
        for: durationMs,
        /** Writes the source's first `lost` word at the start. */
        says_lost: z.boolean().default(false),
        /** On return, sensors read by words say their off word for this long before they know better. */
        says_off_first: durationMs.optional(),
      }),
    )
    .default([]),
  /** Restarts by chance, besides. */
  restart: occasional.optional(),
  /** All its sensors repeat their last reading. */
  freezes: z.array(z.strictObject(stretchShape)).default([]),
});

/** The scenario file, as zod sees it. Durations become milliseconds; dates and times stay local text. */
export const scenarioShape = z.strictObject({
  scenario: z.string().min(1),
  seed: z.int().min(0),
  timezone: z.string().refine((zone) => IANAZone.isValidZone(zone), "Expected a time zone such as Europe/London"),
  period: z.strictObject({
    from: date,
    to: date,
    /** Exports begin this long before the period, so that the state at its start is known. */
    lead: durationMs.default(2 * 3_600_000),
  }),
  people: z.record(id, z.strictObject({ at_start: z.enum(["here", "away"]).default("here") })).default({}),
  bays: z.record(id, z.strictObject({ vehicle: z.string().optional(), at_start: z.enum(["occupied", "empty"]).default("occupied") })).default({}),
  doors: z
    .record(
      id,
      z.strictObject({
        /** How long before a passage the door stands open, and how long after, drawn evenly. */
        opens_before: range.default([20_000, 50_000]),
        closes_after: range.default([25_000, 90_000]),
      }),
    )
    .default({}),
  routine: z.array(routineShape).default([]),
  events: z.array(eventShape).default([]),
  causes: z.record(id, causeShape).default({}),
  sources: z.record(id, sourceShape),
  sensors: z.record(id, sensorShape),
  diary: z
    .strictObject({
      /** The share that a person wrote down: this many days from the start, of these subjects. Absent: everything. */
      kept: z.strictObject({ days: z.int().positive(), subjects: z.array(id).min(1) }).optional(),
    })
    .default({}),
  /** The rest of the site file (rules, limits, settings), copied with its comments. */
  site: z.record(z.string(), z.unknown()).default({}),
});

/** A scenario as parsed: {@link scenarioShape} after its defaults and transforms. */
export type ScenarioParts = z.infer<typeof scenarioShape>;
