import { isNight } from "../../ground/night.js";
import type { Covers } from "../../result/cover.js";
import type { FiringJudgement } from "../replay/firing-outcomes.js";
import { hourOfDay } from "./local-days.js";

/** Firings of the day, or of the night, of which some were checked in random order. */
export type Checked = Covers["checked"][number];

/**
 * The firings of days and of nights, and how far each list is checked in the order in which to ask. That order is random and knows
 * nothing of what happened, so whatever stands before the first firing that nobody confirmed is a random draw of all: what it shows holds
 * for the rest too. Firings confirmed further down are no draw; they only say how many are wrong at least.
 */
export function checkedFirings(firings: readonly Pick<FiringJudgement, "at" | "outcome">[], timeZone: string): Checked[] {
  const isAtNight = ({ at }: Pick<FiringJudgement, "at">): boolean => isNight(hourOfDay(at, timeZone));
  return [firings.filter((one) => !isAtNight(one)), firings.filter(isAtNight)].map((list) => {
    const ordered = list.toSorted((a, b) => askingOrder(a.at) - askingOrder(b.at));
    const open = ordered.findIndex(({ outcome }) => outcome === "unverified");
    const drawn = ordered.slice(0, open < 0 ? ordered.length : open);
    const wrong = countOf(list, "wrong");
    return { firings: list.length, drawn: drawn.length, wrongDrawn: countOf(drawn, "wrong"), wrong, unverified: countOf(list, "unverified") };
  });
}

function countOf(firings: readonly Pick<FiringJudgement, "outcome">[], outcome: FiringJudgement["outcome"]): number {
  return firings.filter((one) => one.outcome === outcome).length;
}

/**
 * The place of a firing in the order in which to ask, as a number: the smallest first. It is worked out from the instant alone (FNV-1a
 * over its digits, then mixed), so it stays the same when the history grows and when answers come in.
 */
export function askingOrder(at: number): number {
  let hash = 0x811c9dc5;
  for (const digit of String(at)) hash = Math.imul(hash ^ digit.charCodeAt(0), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}
