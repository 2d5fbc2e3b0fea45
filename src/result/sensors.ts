import { z } from "zod";
import { instant, stateWord, type Shape } from "./values.js";

/** `[from, to)` in seconds since the beginning of the period. */
const stretch = z.tuple([z.number(), z.number()]).describe("from, to, in seconds since the beginning of the period");
/** From so many seconds after the window's beginning on, the state. */
const steps = z.array(z.tuple([z.number(), stateWord]));

/** One signal within the window of a picture. */
const twinLane = z.strictObject({
  signal: z.string(),
  /** What it said, cut to the window. */
  steps,
  /** Readings of a distance meter, in the unit of the site file; null for every other signal. */
  meter: z
    .strictObject({
      unit: z.enum(["m", "cm", "mm", "ft", "in"]),
      /** Where a reading counts as present. */
      band: z.strictObject({ near: z.number(), far: z.number() }),
      /** Seconds since the window's beginning, and the value; null: silent from there on. Thinned to the least and most of short stretches. */
      readings: z.array(z.tuple([z.number(), z.number().nullable()])),
    })
    .nullable(),
});

/** What is wrong with a sensor, the gravest first. `harm`: it made a rule err, and nothing else shows; `none`: nothing. */
export const sensorFault = z.enum([
  "blind", "stuck", "band", "false reports", "late", "missed", "silent", "broken up", "disputed", "changed", "unchecked", "harm", "none",
]);

/** One sensor in short: whether to mend it, why, and when it differed from what most likely happened. */
export const sensorSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  /** `mend`: broken, or it made a rule err. `look`: it strays now and then, or nothing checks it. */
  state: z.enum(["fine", "look", "mend"]),
  fault: sensorFault,
  /** Why, in a few words without a date: that fault, and maybe a second one. */
  why: z.array(z.string()).min(1),
  /** From the first time of that fault to the last; null where it is no matter of single times. */
  over: z.strictObject({ from: instant, to: instant }).nullable(),
  /** Two or three sentences more. */
  says: z.array(z.string()),
  /** Stretches of at least two minutes in which it said the opposite of what most likely happened. */
  differed: z.strictObject({ count: z.int(), hours: z.number(), longestHours: z.number() }),
  /** When; the longest of each sort, in order of time. `unchecked`: nothing but the signal itself told the truth. */
  stretches: z.strictObject({ differed: z.array(stretch), silent: z.array(stretch), unchecked: z.array(stretch) }),
  /** The longest stretch of that fault, or else in which it differed or was silent; null for sensors that are fine. */
  worst: z
    .strictObject({
      from: instant,
      to: instant,
      said: stateWord,
      /** What most likely happened, for most of it. */
      truth: stateWord,
      /** What a picture says of it: `says “nothing there” for 17 h`, and shorter: `nothing, for 17 h`. */
      text: z.string(),
      short: z.string(),
      /** The sensor and another one of the same subject around it; null beyond the first few sensors. */
      picture: z
        .strictObject({
          from: instant,
          to: instant,
          own: twinLane,
          /** Null: there is no other signal of the subject. */
          twin: twinLane.nullable(),
          truth: steps,
          /** What on and off mean for the subject. */
          words: z.strictObject({ on: z.string(), off: z.string() }),
          /** Where a distance should have been, in the sensor's own unit; null where that cannot be said. */
          expected: z.tuple([z.number(), z.number()]).nullable(),
        })
        .nullable(),
    })
    .nullable(),
});

/** {@link sensorSchema} as a type. */
export type SensorFinding = Shape<typeof sensorSchema>;
/** The worst stretch of a sensor. */
export type WorstStretch = NonNullable<SensorFinding["worst"]>;
/** What there is to draw of a worst stretch. */
export type TwinPicture = NonNullable<WorstStretch["picture"]>;
/** One signal of such a picture. */
export type TwinLane = TwinPicture["own"];
