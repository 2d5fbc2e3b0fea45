import { z } from "zod";
import { instant } from "./values.js";

/** What to make of the texts of a result. */
export interface TextVisit {
  /** A text that is not of a fixed list, and the key under which it, or the list it stands in, is kept. */
  readonly text: (text: string, key: string) => string;
  /** Epoch milliseconds. */
  readonly instant: (instant: number) => number;
}

/**
 * A copy of data with its texts replaced, going by the schema: enumerated texts stay as they are, instants and all other
 * texts are handed over. Data that the schema says nothing of in particular is searched for texts all the same.
 */
export function withTexts(schema: z.core.$ZodType, data: unknown, visit: TextVisit, key = ""): unknown {
  if (data === null || data === undefined) return data;
  if (schema instanceof z.ZodNullable || schema instanceof z.ZodOptional) return withTexts(schema.unwrap(), data, visit, key);
  if (schema instanceof z.ZodEnum || schema instanceof z.ZodLiteral) return data;
  if (schema === instant) return typeof data === "number" ? visit.instant(data) : data;
  if (typeof data === "string") return visit.text(data, key);
  if (Array.isArray(data)) {
    const items: readonly z.core.$ZodType[] = schema instanceof z.ZodTuple ? schema.def.items : [];
    const element = schema instanceof z.ZodArray ? schema.element : z.unknown();
    return data.map((one, index) => withTexts(items[index] ?? element, one, visit, key));
  }
  if (typeof data !== "object") return data;
  const shape: Readonly<Record<string, z.core.$ZodType>> = schema instanceof z.ZodObject ? schema.shape : {};
  const rest = schema instanceof z.ZodRecord ? schema.valueType : z.unknown();
  return Object.fromEntries(Object.entries(data).map(([inner, value]) => [shape[inner] === undefined ? visit.text(inner, key) : inner, withTexts(shape[inner] ?? rest, value, visit, shape[inner] === undefined ? key : inner)]));
}
