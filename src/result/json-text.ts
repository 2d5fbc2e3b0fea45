import { z } from "zod";
import type { Shape } from "./values.js";

/** A list of numbers and nothing else, as `JSON.stringify` spreads it. A text of a result holds no line break of its own. */
const SPREAD_NUMBERS = /\[\n\s+((?:-?[\d.eE+-]+|null)(?:,\n\s+(?:-?[\d.eE+-]+|null))*)\n\s+\]/g;

/** How the file of a result is written: a key a line, and lists of numbers on one. Throws `z.ZodError` where the value does not fit its schema to the key. */
export function jsonText<Schema extends z.ZodType>(schema: Schema, value: Shape<Schema>): string {
  const text = JSON.stringify(encoded(schema, value), null, 1);
  return `${text.replace(SPREAD_NUMBERS, (_, numbers: string) => `[${numbers.replace(/\n\s+/g, " ")}]`)}\n`;
}

/** A value as JSON has it: instants as text. Throws `z.ZodError` where the value does not fit its schema to the key. */
export function encoded<Schema extends z.ZodType>(schema: Schema, value: Shape<Schema>): z.input<Schema> {
  // Encoding changes nothing in the value, though its type would allow it to.
  return z.encode(schema, value as z.output<Schema>);
}

/**
 * A result read from JSON: instants as epoch milliseconds. Keys that the schema does not know are dropped, since a newer
 * version may have added them; whatever else does not fit is an error.
 */
export function decoded<Schema extends z.ZodType>(schema: Schema, json: unknown): z.ZodSafeParseResult<z.output<Schema>> {
  const first = schema.safeParse(json);
  const unknownKeys = first.success ? [] : first.error.issues.filter((issue) => issue.code === "unrecognized_keys");
  if (unknownKeys.length === 0) return first;
  const known: unknown = structuredClone(json);
  for (const { path, keys } of unknownKeys) {
    const holder = path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown>)[key], known);
    for (const key of keys) Reflect.deleteProperty(holder as object, key);
  }
  return schema.safeParse(known);
}
