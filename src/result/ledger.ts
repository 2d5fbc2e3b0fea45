import { z } from "zod";
import { instant, type Shape } from "./values.js";

/** What one file of an export gave: every row is accepted, a duplicate or set aside with its reason. */
export const ledgerRowSchema = z.strictObject({
  source: z.string(),
  file: z.string(),
  read: z.int(),
  accepted: z.int(),
  duplicate: z.int(),
  setAside: z.int(),
  reasons: z.array(z.strictObject({ reason: z.string(), count: z.int() })),
  missingCells: z.int(),
  unreadableCells: z.int(),
  repeatedHourRows: z.int(),
  shiftedRows: z.int(),
  outOfOrderRows: z.int(),
  cutOff: z.boolean(),
  first: instant.nullable(),
  last: instant.nullable(),
});

/** {@link ledgerRowSchema} as a type. */
export type LedgerRow = Shape<typeof ledgerRowSchema>;
