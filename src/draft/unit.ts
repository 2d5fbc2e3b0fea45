import type { DistanceUnit } from "../site/site.js";
import { metresPerUnit, distanceUnits } from "../site/length.js";
import { tokensOf } from "./names.js";

/** A meter's unit; `open` asks when the readings leave a choice. */
export interface UnitFound {
  readonly unit: DistanceUnit;
  readonly evidence: string;
  readonly open: string | null;
  /** The units to choose among, likeliest first. */
  readonly choices: readonly DistanceUnit[];
}

/** What a meter sees when no vehicle is there: a floor, a far wall, or no echo; rarely nearer or farther (our own choice). */
const NEAREST_METRES = 1.5;
const FARTHEST_METRES = 6;

const unitWords: Readonly<Record<string, DistanceUnit>> = {
  m: "m",
  metre: "m",
  metres: "m",
  meters: "m",
  cm: "cm",
  mm: "mm",
  ft: "ft",
  feet: "ft",
  foot: "ft",
  in: "in",
  inch: "in",
  inches: "in",
};

/** A meter's unit: from the last word of its channel's or column's name, else from how far it sees when no vehicle is there. */
export function findUnit(names: readonly string[], emptyReading: number, called = "Without a vehicle"): UnitFound {
  for (const name of names) {
    const tokens = tokensOf(name);
    const word = tokens.length > 1 ? unitWords[tokens.at(-1) ?? ""] : undefined;
    if (word !== undefined) return { unit: word, evidence: `unit from the name "${name.slice(0, 40)}"`, open: null, choices: [] };
  }
  const metres = (unit: DistanceUnit): number => emptyReading * metresPerUnit[unit];
  const fitting = distanceUnits.filter((unit) => metres(unit) >= NEAREST_METRES && metres(unit) <= FARTHEST_METRES);
  const says = (unit: DistanceUnit): string => `${metres(unit) < 0.1 ? metres(unit).toPrecision(1) : metres(unit).toFixed(1)} m in ${unit}`;
  const [only, ...others] = fitting;
  if (only !== undefined && others.length === 0) {
    const range = `in no other unit between ${NEAREST_METRES} and ${FARTHEST_METRES} m`;
    return { unit: only, evidence: `without a vehicle it reads about ${emptyReading}: ${says(only)}, and ${range}`, open: null, choices: [] };
  }
  const middle = Math.sqrt(NEAREST_METRES * FARTHEST_METRES);
  const off = (unit: DistanceUnit): number => Math.abs(Math.log(metres(unit) / middle));
  const likely = distanceUnits.reduce<DistanceUnit>((best, unit) => (off(unit) < off(best) ? unit : best), "m");
  const choices = (fitting.length > 0 ? fitting : distanceUnits).map(says).join(", ");
  return {
    unit: likely,
    evidence: "",
    open:
      `in which unit are these distances? ${called} about ${emptyReading}: ${choices}. ` +
      "The band below is in the unit of the export whatever it is",
    choices: [likely, ...distanceUnits.filter((unit) => unit !== likely)],
  };
}
