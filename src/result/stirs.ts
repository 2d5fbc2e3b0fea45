import { z } from "zod";
import type { Shape } from "./values.js";

/** How long nothing stirred while somebody most likely was at home, in hours: of the silences that begin by day, or by night. Null without any. */
const silences = z.strictObject({ count: z.int(), medianHours: z.number().nullable(), longHours: z.number().nullable(), longestHours: z.number().nullable() });

/** What the one-sided signals of a person noticed, and how long it is usual that they notice nothing at home. */
export const stirsSchema = z.strictObject({
  subject: z.string(),
  /** Hours of the period in which the person most likely was here. */
  hereHours: z.number(),
  /** How many times each began to notice somebody; a day at home, of 24 hours: null without any time at home. */
  signals: z.array(z.strictObject({ signal: z.string(), times: z.int(), timesADayHere: z.number().nullable() })),
  /** Between two stirs of any of them, in one stay at home. `longHours`: one in twenty lasts longer. Night: 22:00 to 06:00. */
  silences: z.strictObject({ day: silences, night: silences }),
});

/** {@link stirsSchema} as a type. */
export type StirsFinding = Shape<typeof stirsSchema>;
