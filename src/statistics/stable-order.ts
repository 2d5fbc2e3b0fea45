/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the length of its array */
import { firstAtOrAfter } from "../ground/search.js";

/**
 * The indices of the values, those of smaller values first and of equal ones in their order. Values must be numbers, not
 * NaN. Made for many readings of which few differ: they are counted, not compared with a callback.
 */
export function stableOrder(values: Float64Array): Uint32Array {
  const distinct = values.slice().sort();
  let kinds = 0;
  for (let i = 0; i < distinct.length; i += 1) if (i === 0 || distinct[i] !== distinct[kinds - 1]) distinct[kinds++] = distinct[i]!;
  const known = distinct.subarray(0, kinds);
  const kindOf = Uint32Array.from(values, (value) => firstAtOrAfter(known, value));
  const next = new Uint32Array(kinds + 1);
  for (const kind of kindOf) next[kind + 1]! += 1;
  for (let kind = 0; kind < kinds; kind += 1) next[kind + 1]! += next[kind]!;
  const order = new Uint32Array(values.length);
  for (let i = 0; i < kindOf.length; i += 1) order[next[kindOf[i]!]!++] = i;
  return order;
}
