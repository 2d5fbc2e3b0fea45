import { z } from "zod";
import { exportFaultKind } from "./export-faults.js";
import { sensorFault } from "./sensors.js";
import { quantity, type Shape, share } from "./values.js";

const count = z.int().min(0);
/** A day of the period, or how many there are: more than any history has would fill the memory with days. */
const days = z.int().min(0).max(100_000);
/** One number for each local day of the period, the first day first. */
const byDay = z.array(quantity);

/** Per local day what one sensor did, and which rules read it. No instants. */
export const sensorDaysSchema = z.strictObject({
  signal: z.string(),
  source: z.string(),
  shares: z.array(z.string()),
  /** Changes that it could be charged with missing, those it missed, and false reports. */
  turns: byDay,
  missed: byDay,
  falseReports: byDay,
  /** Changes taken back within a minute; left out by older versions. */
  flickers: byDay.optional(),
  /** Hours in which it contradicted what most likely happened; in which it said nothing; in which an export hides it. */
  wrongHours: byDay,
  silentHours: byDay,
  hiddenHours: byDay,
  /** The longest run of changes missed one after another. */
  missedRun: z.strictObject({ count, firstDay: days, lastDay: days }),
  /** How late it usually was, however late: seconds until it said what was so, with the lower end of that; null if it mostly never did. */
  delay: z.strictObject({ medianSeconds: quantity, lowSeconds: quantity, count }).nullable(),
  /** Rules that read it. */
  rules: z.array(z.string()),
  /** What the site's own page calls wrong with it; left out by older versions. */
  fault: sensorFault.optional(),
  /** Days by who told the truth about it: the diary, several others, one other. */
  basis: z.strictObject({ diary: quantity, several: quantity, one: quantity }),
});

/** What whoever looks after the sensors needs of one site and period: days are counted from the first local day, 0. */
export const upkeepSchema = z.strictObject({
  days,
  limits: z.strictObject({ missedShare: share, falseShare: share, silentShare: share, lateSeconds: quantity }),
  sensors: z.array(sensorDaysSchema),
  /** Two signals of a subject that differed while nobody could tell which is wrong: hours by day. */
  pairs: z.array(z.strictObject({ signals: z.tuple([z.string(), z.string()]), differedHours: byDay })),
  /** Outages of shared causes: one place, however many sensors fell silent with it. */
  outages: z.array(z.strictObject({ cause: z.string(), signals: z.array(z.string()), count, hours: quantity, byDay })),
  /** Two sensors that each tell of the other's subject. `own`: how far they agree with their own, `crossed`: with the other's. */
  swapped: z.array(z.strictObject({ signals: z.tuple([z.string(), z.string()]), own: z.tuple([share, share]), crossed: z.tuple([share, share]) })),
  /** Clocks that are wrong, as the audit tells them. */
  clocks: z.array(z.strictObject({ target: z.string(), text: z.string(), why: z.string(), rules: z.array(z.string()) })),
  /** What changed within the period, from which day on. */
  changes: z.array(z.strictObject({ signal: z.string(), what: z.string(), unit: z.string(), day: days, before: quantity, after: quantity })),
  exports: z.array(
    z.strictObject({
      kind: exportFaultKind,
      source: z.string(),
      file: z.string().nullable(),
      signals: z.array(z.string()),
      firstDay: days,
      lastDay: days,
      hours: quantity,
      /** Days on which a rule cannot be judged because of it. */
      unjudged: days,
      text: z.string(),
      ask: z.string(),
    }),
  ),
  /** By rule, each day on which something was wanted or went wrong: the worst of it, and the signals it is put down to. */
  nights: z.array(
    z.strictObject({
      rule: z.string(),
      act: z.string(),
      days: z.array(z.strictObject({ day: days, outcome: z.enum(["served", "failed", "wrong", "unjudged"]), signals: z.array(z.string()) })),
    }),
  ),
});

/** {@link upkeepSchema} as a type. */
export type Upkeep = Shape<typeof upkeepSchema>;
/** {@link sensorDaysSchema} as a type. */
export type SensorDays = Shape<typeof sensorDaysSchema>;
