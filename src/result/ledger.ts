import { z } from "zod";
import { instant, type Shape } from "./values.js";

/** What one file of an export gave: every row is accepted, a duplicate or set aside with its reason. */
export const ledgerRowSchema = z.strictObject({
  source: z.string(),
  /** Path relative to the site file's folder. */
  file: z.string(),
  read: z.int(),
  accepted: z.int(),
  duplicate: z.int(),
  setAside: z.int(),
  reasons: z.array(z.strictObject({ reason: z.string(), count: z.int() })),
  /** Cells of accepted and duplicate rows (wide layout) that hold no news, and those that could not be read. */
  missingCells: z.int(),
  unreadableCells: z.int(),
  /** Local times in a repeated hour (resolved by file order) and in a skipped hour that were shifted. */
  repeatedHourRows: z.int(),
  shiftedRows: z.int(),
  outOfOrderRows: z.int(),
  /** The file ends too soon: the rows up to there were read. */
  cutOff: z.boolean(),
  /** Earliest and latest accepted reading; null without any. */
  first: instant.nullable(),
  last: instant.nullable(),
});

/** {@link ledgerRowSchema} as a type. */
export type LedgerRow = Shape<typeof ledgerRowSchema>;
