import { z } from "zod";
import { instant, type Shape } from "./values.js";

/**
 * What is wrong with an export: `cut off`: a file stops in the middle. `ends early`, `begins late`: it holds less than the
 * time that was asked for, though other exports go on. `leaves out`: no file holds a stretch in the middle. `renamed`: rows of a channel that the site file does not know,
 * and none of one that it does. `absent`: nothing at all of that time.
 */
export const exportFaultKind = z.enum(["cut off", "ends early", "begins late", "leaves out", "renamed", "absent"]);

/** A fault of an export, not of a sensor: what it hides counts neither for nor against anything. */
export const exportFaultSchema = z.strictObject({
  kind: exportFaultKind,
  source: z.string(),
  /** The file; null where it is none in particular. */
  file: z.string().nullable(),
  /** The signals of which it hides something, in the site file's order. */
  signals: z.array(z.string()),
  /** What is hidden of them. Equal where the audited time does not reach that far. */
  from: instant,
  to: instant,
  /** What is wrong, in a sentence. */
  text: z.string(),
  /** What to ask for, in a sentence. */
  ask: z.string(),
});

/** {@link exportFaultSchema} as a type. */
export type ExportFault = Shape<typeof exportFaultSchema>;
