import { DESIGN_COUNTING, type DesignHistory, type PartHistory, type PartStretch } from "../../../src/result/design.js";

/** A stretch that begins on a day at a clock time such as `17:30`. */
export function stretch(day: number, clock: string, seconds: number, explained = false): PartStretch {
  const [hours = "0", minutes = "0"] = clock.split(":");
  return { day, at: Number(hours) * 3_600 + Number(minutes) * 60, seconds, explained };
}

/** A part with its stretches; the longest may be longer than any seen. */
export function part(name: PartHistory["name"], longestSeconds: number, stretches: readonly PartStretch[]): PartHistory {
  return { name, signals: [name], longestSeconds, stretches };
}

/** A history over whole days, all of one type unless they are given as letters. */
export function history(days: number | string, first: PartHistory, second: PartHistory, homeShare = 1): DesignHistory {
  const letters = typeof days === "string" ? days : "w".repeat(days);
  const kept = Array.from(letters).filter((type) => type !== "x").length;
  return { counting: DESIGN_COUNTING, days: letters, years: kept / 365.25, homeShare, parts: [first, second], trueTogether: 0 };
}
