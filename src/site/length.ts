import type { DistanceUnit } from "./site.js";

/** Units a distance may be exported in. */
export const distanceUnits = ["m", "cm", "mm", "ft", "in"] as const satisfies readonly DistanceUnit[];

/** Metres in one of each unit; the foot and the inch are exact by the international yard and pound agreement of 1959. */
export const metresPerUnit = { km: 1000, m: 1, cm: 0.01, mm: 0.001, ft: 0.3048, in: 0.0254 } as const;

/** Units a length in the site file may carry: those of distances, and `km`. */
export type LengthUnit = keyof typeof metresPerUnit;

/** A length as written: `150m`, `0.5 km`, or a bare number whose unit is given elsewhere. */
export interface WrittenLength {
  readonly value: number;
  readonly unit: LengthUnit | null;
}

/** How a length is written, for the JSON Schema. */
export const lengthPattern = String.raw`^-?(?:\d+\.?\d*|\.\d+) ?(?:km|cm|mm|m|ft|in)?$`;

const written = /^(-?(?:\d{1,15}\.?\d{0,15}|\.\d{1,15})) ?(km|cm|mm|m|ft|in)?$/;

/** Reads a length, or null where the text is none. Signs are kept: whether a negative one makes sense is for the caller. */
export function parseLength(text: string): WrittenLength | null {
  const match = written.exec(text.trim());
  if (match === null) return null;
  return { value: Number(match[1]), unit: (match[2] as LengthUnit | undefined) ?? null };
}

/** Metres in a unit, to four digits: no meter is more exact. */
export function writtenIn(unit: LengthUnit): (metres: number) => number {
  return (metres) => Number((metres / metresPerUnit[unit]).toPrecision(4));
}

/** The length in metres; a bare number counts in `unitOfBareNumbers`. Null where that is missing too. */
export function lengthMetres(length: WrittenLength, unitOfBareNumbers: LengthUnit | null): number | null {
  const unit = length.unit ?? unitOfBareNumbers;
  return unit === null ? null : length.value * metresPerUnit[unit];
}
