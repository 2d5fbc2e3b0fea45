import { z } from "zod";
import type { Shape } from "./values.js";

/** A figure with its interval; `value` null carries its reason in `why`. */
export const estimateSchema = z.strictObject({
  value: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  count: z.number(),
  /** Of a share: successes in `exposure` trials; of a rate: events in `exposure` units of time. */
  hits: z.number().optional(),
  exposure: z.number().optional(),
  unit: z.string(),
  why: z.string().nullable(),
});
/**
 * A figure with its interval. Unknown is null with a reason, never 0. `low` and `high` are a two-sided interval at the
 * site's confidence unless the maker says otherwise.
 */
export type Estimate = Shape<typeof estimateSchema>;
