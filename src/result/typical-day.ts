import { z } from "zod";
import { share, subjectClass, type Shape } from "./values.js";

/** Presence by local time over days of one sort. */
const shares = z.strictObject({
  days: z.int(),
  /** Share of the known time in which the subject was on, a half-hour each from midnight on; null where nothing was known. */
  halfHours: z.array(share.nullable()),
});

/** How an ordinary day goes for people and vehicles, by what most likely happened. */
export const typicalDaySchema = z.strictObject({
  subjects: z.array(
    z.strictObject({
      subject: z.string(),
      class: subjectClass,
      weekdays: shares,
      weekends: shares,
      /**
       * Usual times on weekdays, in minutes since local midnight (medians), and on how many weekdays there were both. `away`: it leaves
       * first and comes back (`first` off, `second` on); `visits`: it is off at night (`first` on, `second` off). Null: no habit.
       */
      usual: z.strictObject({ way: z.enum(["away", "visits"]), first: z.number(), second: z.number(), days: z.int() }).nullable(),
    }),
  ),
  /** People and vehicles that are not among them. */
  leftOut: z.int(),
});

/** {@link typicalDaySchema} as a type. */
export type TypicalDay = Shape<typeof typicalDaySchema>;
/** One person or bay. */
export type DaySubject = TypicalDay["subjects"][number];
