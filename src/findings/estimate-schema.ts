import { z } from "zod";

/** A figure with its interval; `value` null carries its reason in `why`. */
export const estimateSchema = z.strictObject({
  value: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  count: z.number(),
  unit: z.string(),
  why: z.string().nullable(),
});
