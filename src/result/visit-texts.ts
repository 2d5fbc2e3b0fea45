import { z } from "zod";
import { instant } from "./values.js";

/** Where a value stands. */
export interface Place {
  /** The key under which the value, or the list it stands in, is kept. */
  readonly key: string;
  /** All keys down to it, joined by dots; lists add none. */
  readonly path: string;
  /** The object it stands in; of the elements of a list, the one with the list. */
  readonly holder: Readonly<Record<string, unknown>>;
  /** The instants (epoch milliseconds) of that object, or of the nearest around it that has any. */
  readonly near: readonly number[];
}

/** What to make of the texts, the instants and the numbers of a result. */
export interface TextVisit {
  /** A text that is not of a fixed list. */
  readonly text: (text: string, key: string, place: Place) => string;
  /** Epoch milliseconds. */
  readonly instant: (instant: number) => number;
  /** A number that is no instant. Left out: numbers stay as they are. */
  readonly number?: (value: number, place: Place) => number;
}

const nowhere: Place = { key: "", path: "", holder: {}, near: [] };

/**
 * A copy of data with its texts replaced, going by the schema: enumerated texts stay as they are, instants, numbers and all
 * other texts are handed over. Data that the schema says nothing of in particular is searched for texts all the same.
 */
export function withTexts(schema: z.core.$ZodType, data: unknown, visit: TextVisit, place: Place = nowhere): unknown {
  if (data === null || data === undefined) return data;
  if (schema instanceof z.ZodNullable || schema instanceof z.ZodOptional) return withTexts(schema.unwrap(), data, visit, place);
  if (schema instanceof z.ZodEnum || schema instanceof z.ZodLiteral) return data;
  if (schema === instant) return typeof data === "number" ? visit.instant(data) : data;
  if (typeof data === "string") return visit.text(data, place.key, place);
  if (typeof data === "number") return visit.number?.(data, place) ?? data;
  if (Array.isArray(data)) {
    const items: readonly z.core.$ZodType[] = schema instanceof z.ZodTuple ? schema.def.items : [];
    const element = schema instanceof z.ZodArray ? schema.element : z.unknown();
    return data.map((one, index) => withTexts(items[index] ?? element, one, visit, place));
  }
  if (typeof data !== "object") return data;
  const shape: Readonly<Record<string, z.core.$ZodType>> = schema instanceof z.ZodObject ? schema.shape : {};
  const rest = schema instanceof z.ZodRecord ? schema.valueType : z.unknown();
  const holder = data as Readonly<Record<string, unknown>>;
  const own = Object.entries(holder).flatMap(([key, value]) => (typeof value === "number" && isInstant(shape[key]) ? [value] : []));
  const near = own.length > 0 ? own : place.near;
  return Object.fromEntries(
    Object.entries(holder).map(([inner, value]) => {
      const known = shape[inner];
      const key = known === undefined ? place.key : inner;
      const path = place.path === "" ? key : `${place.path}.${key}`;
      return [known === undefined ? visit.text(inner, place.key, place) : inner, withTexts(known ?? rest, value, visit, { key, path, holder, near })];
    }),
  );
}

function isInstant(schema: z.core.$ZodType | undefined): boolean {
  return schema instanceof z.ZodNullable || schema instanceof z.ZodOptional ? isInstant(schema.unwrap()) : schema === instant;
}
