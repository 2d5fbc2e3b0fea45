import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import { numberText, timesInWords } from "../../judge/rule/words.js";
import type { SubjectClass } from "../../site/site.js";

/** A length of time in one unit, as one would say it: `40 s`, `13 min`, `17 h`, `3 days`. */
export function aboutText(ms: number): string {
  const [size, unit] =
    ms >= 2 * DAY_MS ? ([DAY_MS, "days"] as const)
    : ms >= 2 * HOUR_MS ? ([HOUR_MS, "h"] as const)
    : ms >= 2 * MINUTE_MS ? ([MINUTE_MS, "min"] as const)
    : ([SECOND_MS, "s"] as const);
  return `${Math.round(ms / size)} ${unit}`;
}

/** How a household says what a sensor says, and its false reports. */
export interface SensorWords {
  readonly on: string;
  readonly off: string;
  /** `off` where there is little room. */
  readonly offShort: string;
  /** Tells how many false reports of each sort there were. */
  readonly falseOn: (count: number) => string;
  readonly falseOff: (count: number) => string;
  /** What it is late at: `leaves`. */
  readonly turnsOn: string;
  readonly turnsOff: string;
}

const counted = (one: string) => (count: number) => `${numberText(count)} false ${one}${count === 1 ? "" : "s"}`;

/** By class of subject. */
export const sensorWords: Readonly<Record<SubjectClass, SensorWords>> = {
  bay: {
    on: "vehicle", off: "nothing there", offShort: "nothing", turnsOn: "sees vehicles", turnsOff: "sees them leave",
    falseOn: counted("vehicle"), falseOff: (count) => `lost its vehicle ${timesInWords(count)}`,
  },
  door: { on: "open", off: "shut", offShort: "shut", turnsOn: "opens", turnsOff: "shuts", falseOn: counted("opening"), falseOff: counted("closing") },
  person: {
    on: "here", off: "away", offShort: "away", turnsOn: "comes", turnsOff: "leaves",
    falseOn: (count) => `said here ${timesInWords(count)}, wrongly`, falseOff: (count) => `dropped out ${timesInWords(count)}`,
  },
};
