import { z } from "zod";
import { duration, keyed, length, named, number, oneOf, text, texts, words, wordsOrDistances, yearlyRate } from "./leaves.js";
import { distanceUnits } from "./length.js";
import { sensorLimitsShape } from "./sensor-limits-shape.js";
import { statedShape } from "./stated-shape.js";

/*
 * The shape of a site file, key by key, before names are looked up. The descriptions go into docs/site.schema.json.
 * What depends on more than one key (a distance needs a band, a contact needs words) is checked in build-*.ts.
 */

/** Words of an act. */
export const acts = ["unlock", "lock", "disarm", "arm"] as const;

/** Words of a signal's kind. */
const signalKinds = ["distance", "contact", "phone", "position", "flag", "stir"] as const;

/** How `every` and `some` name the classes of subjects; `stirs` are the signals of that kind, and no subjects. */
const classPlurals = ["bays", "doors", "people", "stirs"] as const;

const latitude = number("a latitude in degrees, -90 to 90", (value) => Math.abs(value) <= 90, { minimum: -90, maximum: 90 });
const longitude = number("a longitude in degrees, -180 to 180", (value) => Math.abs(value) <= 180, { minimum: -180, maximum: 180 });

/** Names change over the months. */
const SEVERAL = "A list: its names over time, of which a file has one.";

const timeShape = keyed(
  {
    column: texts("the name of the column with the time stamps").describe(`Name of the column with the time stamps. ${SEVERAL}`),
    and: texts("the name of the column with the time of day")
      .optional()
      .describe(`Where date and time stand in two columns: the second of them. Its text follows behind a space. ${SEVERAL}`),
    written: text("iso, epoch-s, epoch-ms, ms-since, s-since, or a pattern such as dd/MM/yyyy HH:mm:ss").describe(
      "How stamps are written: iso, epoch-s, epoch-ms, or a pattern of yyyy MM dd HH mm ss and the like; ms-since or s-since where they count from `start`.",
    ),
    start: text("an instant such as 2026-10-01T06:00:00Z").optional().describe("With ms-since and s-since: when the device started to count. Without an offset in `zone`."),
    zone: text("a time zone such as Europe/London").optional().describe("Time zone of stamps without an offset. Default: the site's."),
    skipped_hour: oneOf(["set-aside", "shift"])
      .optional()
      .describe("What to do with a local time that a clock change skipped: set-aside (default), or shift it forward."),
  },
  "a mapping with `column` and `written`",
);

const eachColumn = z
  .union(
    [
      text("a column's name").transform((name) => [name]),
      z.array(text("a column's name")).min(1, { error: "a column's name, or a list, not empty" }),
      keyed(
        { latitude: text("a column's name"), longitude: text("a column's name") },
        "a column's name, or latitude and longitude with a column each",
      ),
    ],
    {
      error: "a column's name, or latitude and longitude with a column each",
    },
  )
  .describe(`The column with this signal's values; two columns for a position. ${SEVERAL}`);

const sourceShape = keyed(
  {
    files: texts("a path, which may hold * and **").describe(
      "Paths, relative to this file's folder; * and ** stand for any names; .gz files are unpacked.",
    ),
    time: timeShape.describe("Where the time stamps are and how they are written."),
    delimiter: z
      .string({ error: "one character, or tab" })
      .optional()
      .describe("What separates the columns: one character, or tab. Default: a comma."),
    decimal: oneOf(["point", "comma"]).optional().describe("The sign before the decimals of numbers. Default: point."),
    encoding: oneOf(["utf-8", "utf-16le", "utf-16be", "windows-1252"])
      .optional()
      .describe("How text is written in bytes. Default: UTF-8, or what the file's first bytes show."),
    signal: texts("a column's name").optional().describe(`One reading a row: the column that says which signal it is. ${SEVERAL}`),
    value: texts("a column's name").optional().describe(`One reading a row: the column with the value. ${SEVERAL}`),
    latitude: text("a column's name").optional().describe("One reading a row, positions: the column with the latitude."),
    longitude: text("a column's name").optional().describe("One reading a row, positions: the column with the longitude."),
    each: named(eachColumn, "a mapping from each signal to its column").optional().describe("A column a signal: signal -> column."),
    missing: words.optional().describe("Cells that say nothing about the signal. Default: the empty cell."),
    lost: words.optional().describe("Cells by which the sensor says that it does not know: the signal is unknown from there on."),
    leave_out: texts("a channel or a column")
      .optional()
      .describe("Channels or columns that are none of this site's signals: check does not tell of them as new."),
    unpacks_to: number("a number of gigabytes above 0, such as 10", (value) => value > 0, { exclusiveMinimum: 0 })
      .optional()
      .describe("How many gigabytes a .gz file may unpack to; more is taken for damage. Default: 2."),
    clock_correction: duration("signed").optional().describe("Added to every stamp, such as -90s for a clock that runs 90 s ahead."),
  },
  "a mapping with `files`, `time`, and either `signal` and `value` or `each`",
);

/** Two lists of words, called after the states of the subject. */
const wordKeys = {
  open: words.optional().describe("Words that mean open (signals on a door)."),
  closed: words.optional().describe("Words that mean closed (signals on a door)."),
  occupied: words.optional().describe("Words that mean occupied (signals on a bay)."),
  empty: wordsOrDistances
    .optional()
    .describe(
      "Words that mean empty (signals on a bay). Distance: [near, far], or a list of such, the distances that an empty bay reads; " +
        "what is neither there nor in `present` is unknown.",
    ),
  here: words.optional().describe("Words that mean here (signals on a person)."),
  away: words.optional().describe("Words that mean away (signals on a person)."),
  stirs: words.optional().describe("Words by which a stir signal says that it notices somebody."),
  still: words.optional().describe("Words by which a stir signal says that it notices nothing. Leave out where it has none."),
};

const signalShape = keyed(
  {
    on: text("a bay, door or person").describe("The bay, door or person the signal watches."),
    source: texts("a source").describe("The source its readings are in, or several."),
    channel: texts("the text in the source's signal column")
      .optional()
      .describe("What stands in the source's signal column for this signal. A list: its names over time."),
    kind: oneOf(signalKinds).describe("What the sensor measures."),
    unit: oneOf(distanceUnits).optional().describe("Unit of the distances in the export, and of lengths without a unit here."),
    present: z
      .union(
        [
          z.array(length("a distance such as 3.7 or 110cm"), { error: "two distances, [near, far]" }).length(2, { error: "two distances, [near, far]" }),
          z.literal("unseen"),
        ],
        { error: "two distances, [near, far], or unseen" },
      )
      .optional()
      .describe("Distance: [near, far], the band in which a vehicle is present; or unseen, where none was there yet and only `empty` is known."),
    radius: length("a length such as 150m").optional().describe("Position: within this far of home the person is here."),
    slack: length("a length such as 0.1 or 20m").optional().describe("Once on, the band is this much wider at both ends. Default: 0."),
    maximum: length("a distance such as 16 or 5m").optional().describe("Distance: at or past this the meter heard no echo."),
    ...wordKeys,
    lasts: duration("positive").optional().describe("Stir: what it noticed counts for at most this long. Default: 1min, or until its word for still."),
    settle: duration("zero-or-more").optional().describe("A new state counts once it has lasted this long. Default: 0s."),
    expect: duration("positive")
      .optional()
      .describe("The longest usual time between readings. Leave out for sensors that only report changes."),
    shares: texts("the name of a board, supply, hub or network")
      .optional()
      .describe("Boards, supplies, hubs or networks that this signal depends on and others may too."),
    independent: keyed(
      {
        of: texts("a signal").describe("The signals meant."),
        because: text("why they are independent").describe("Why: who put them in, on which boards and supplies."),
      },
      "a mapping with `of` and `because`",
    )
      .optional()
      .describe("Signals that this one has nothing in common with though their histories look alike, and why."),
    model: text("a text").optional().describe("The sensor's model, for your own comparison."),
    firmware: text("a text").optional().describe("The sensor's firmware, or any other note to tell sensors of one model apart by."),
  },
  "a mapping with `on`, `source`, `kind` and what the kind needs",
);

/** A condition as written; which keys may stand together is checked where it is built. */
export interface WrittenCondition {
  readonly all?: WrittenCondition[] | undefined;
  readonly any?: WrittenCondition[] | undefined;
  readonly at_least?: { count: number; of: WrittenCondition[] } | undefined;
  readonly not?: WrittenCondition | undefined;
  readonly use?: string | undefined;
  readonly signal?: string | undefined;
  readonly subject?: string | undefined;
  readonly every?: (typeof classPlurals)[number] | undefined;
  readonly some?: (typeof classPlurals)[number] | undefined;
  readonly is?: string | undefined;
  readonly held?: number | undefined;
  readonly recently?: number | undefined;
  readonly since?: { signal: string; turned: string; grace?: number | undefined } | undefined;
  readonly turned?: string | undefined;
  readonly within?: number | undefined;
}

/** A condition has exactly one of these keys. */
export const conditionHeads = ["all", "any", "at_least", "not", "use", "signal", "subject", "every", "some"] as const;

const conditionExpected = "a condition, such as { signal: NAME, is: occupied } or { all: [...] }";
const conditions = z
  .array(
    z.lazy(() => conditionShape),
    { error: "a list of conditions" },
  )
  .min(1, { error: "a list of conditions, not empty" });

const conditionShape: z.ZodType<WrittenCondition> = keyed(
  {
    all: conditions.optional().describe("Every one of these."),
    any: conditions.optional().describe("One or more of these."),
    at_least: keyed(
      {
        count: number("a whole number, 1 or more", (value) => Number.isInteger(value) && value >= 1, { minimum: 1, multipleOf: 1 }),
        of: conditions,
      },
      "a mapping with `count` and `of`",
    )
      .optional()
      .describe("At least this many of these."),
    not: z
      .lazy(() => conditionShape)
      .optional()
      .describe("Known to be false."),
    use: text("the name of a condition under `named`").optional().describe("A condition that stands under `named`."),
    signal: text("a signal").optional().describe("A signal, with `is` or `turned`."),
    subject: text("a bay, door or person").optional().describe("In right_when: a bay, door or person, with `is` or `turned`."),
    every: oneOf(classPlurals).optional().describe("Every signal of every bay, door or person, or every stir; in right_when every bay, door or person."),
    some: oneOf(classPlurals).optional().describe("Some signal of some bay, door or person, or some stir; in right_when some bay, door or person."),
    is: text("a state").optional().describe("The state it is in: occupied/empty, open/closed, here/away; of a stir signal stirring/still."),
    held: duration("positive").optional().describe("With `is`: for all of this time."),
    recently: duration("positive").optional().describe("With `is`: at some instant of this time."),
    since: keyed(
      {
        signal: text("a signal").describe("The signal that changed, such as a door's contact."),
        turned: text("a state").describe("The state it changed to."),
        grace: duration("zero-or-more").optional().describe("What happens in this time after the change does not count. Default: 0s."),
      },
      "a mapping with `signal` and `turned`",
    )
      .optional()
      .describe("With `is`: ever since this change of another signal."),
    turned: text("a state").optional().describe("The state it changed to, from the known other one."),
    within: duration("zero-or-more").optional().describe("With `turned`: at most this long ago."),
  },
  conditionExpected,
).meta({ id: "condition", description: "A condition.", oneOf: conditionHeads.map((head) => ({ required: [head] })) });

const ruleShape = keyed(
  {
    name: text("a name").describe("What the report calls the rule."),
    act: oneOf(acts).describe("What the rule does when its condition turns true."),
    when: conditionShape.describe("The condition over signals. An unknown signal counts as false."),
    right_when: conditionShape
      .optional()
      .describe(
        "What must truly hold, of subjects and not signals, for a firing to be right. " +
          "Default: for unlock and disarm some person turned here within 15min; for lock and arm every person is away.",
      ),
    rest: duration("zero-or-more").optional().describe("After firing the rule stays quiet this long. Default: 0s."),
    stated: statedShape.optional().describe("What you state about faults of the parts of this rule that should be independent."),
  },
  "a mapping with `name`, `act` and `when`",
);

const actLimitsShape = keyed(
  {
    wrong_per_year: number("a number above 0", (value) => value > 0, { exclusiveMinimum: 0 })
      .optional()
      .describe("At most this many wrong firings a year."),
    at_most: yearlyRate
      .optional()
      .describe("The same in words, in its place: once in 2 years, twice a year, 3 times in 2 years, once in 18 months."),
    missed_share: number("a share above 0 and up to 1 (0.1 is one in ten)", (value) => value > 0 && value <= 1, {
      exclusiveMinimum: 0,
      maximum: 1,
    }).describe("At most this share of the wanted instants missed or late."),
    within: duration("positive").describe("A wanted instant is served when the rule fires within this time of it."),
  },
  "a mapping with `wrong_per_year` or `at_most`, `missed_share` and `within`",
).meta({ oneOf: [{ required: ["wrong_per_year"] }, { required: ["at_most"] }] });

const limitsShape = keyed(
  {
    sensors: sensorLimitsShape.optional().describe("What is acceptable of a sensor: beyond it somebody is sent there."),
    confidence: number("a number between 0.5 and 1, such as 0.95", (value) => value > 0.5 && value < 1, {
      exclusiveMinimum: 0.5,
      exclusiveMaximum: 1,
    })
      .optional()
      .describe("Confidence of every interval and bound. Default: 0.95."),
    ...(Object.fromEntries(acts.map((act) => [act, actLimitsShape.optional().describe(`What is acceptable of ${act} rules.`)])) as Record<
      (typeof acts)[number],
      z.ZodOptional<typeof actLimitsShape>
    >),
  },
  "a mapping with `confidence` and limits for unlock, lock, disarm or arm",
);

const bayShape = keyed(
  { vehicle: text("a vehicle's name").optional().describe("The vehicle that belongs in the bay.") },
  "{} or { vehicle: NAME }",
).nullable();
const nothingShape = keyed({}, "{}").nullable();

/** The whole site file. */
export const siteShape = keyed(
  {
    $schema: text("a path or URL").optional().describe("For editors: where this schema is. Not used otherwise."),
    site: text("the site's name").describe("The site's name."),
    timezone: text("a time zone such as Europe/London").describe("IANA time zone of the site."),
    home: keyed({ latitude, longitude }, "a mapping with `latitude` and `longitude`")
      .optional()
      .describe("Where home is; needed by position signals."),
    sources: named(sourceShape, "a mapping from names to sources").describe(
      "Sets of export files with one column layout and one clock each.",
    ),
    bays: named(bayShape, "a mapping from names to bays").optional().describe("Places for a vehicle: occupied or empty."),
    doors: named(nothingShape, "a mapping from names to {}").optional().describe("Doors and gates: open or closed."),
    people: named(nothingShape, "a mapping from names to {}").optional().describe("People: here or away."),
    signals: named(signalShape, "a mapping from names to signals").describe("Each sensor's account of one bay, door or person."),
    named: named(conditionShape, "a mapping from names to conditions").optional().describe("Conditions to be used in several places."),
    rules: z.array(ruleShape, { error: "a list of rules" }).optional().describe("Rules to be judged."),
    limits: limitsShape.optional().describe("What you accept of the rules."),
    diary: keyed({ files: texts("a path, which may hold * and **") }, "a mapping with `files`")
      .optional()
      .describe("CSV files (subject,state,from,to) with what is certain, and the tests that somebody made."),
    settings: keyed(
      {
        bridge: duration("zero-or-more")
          .optional()
          .describe("A gap up to this long between two known states still shows a change. Default: 1min."),
        join: duration("positive").optional().describe("Changes this close together belong to one arrival or departure. Default: 10min."),
        restart: duration("positive")
          .optional()
          .describe("Signals of one shared cause that go unknown within this time restarted together. Default: 10s."),
      },
      "a mapping with `bridge`, `join` or `restart`",
    )
      .optional()
      .describe("Times of the method."),
  },
  "a mapping with `site`, `timezone`, `sources` and `signals`",
);

/** A site file of the right shape, names not yet looked up. */
export type WrittenSite = z.output<typeof siteShape>;
export type WrittenSource = z.output<typeof sourceShape>;
export type WrittenSignal = z.output<typeof signalShape>;
export type WrittenRule = z.output<typeof ruleShape>;
