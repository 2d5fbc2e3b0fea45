import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { HOUR_MS, SECOND_MS } from "../../ground/units.js";
import { durationText } from "../../ground/duration.js";
import type { Site } from "../../site/site.js";
import { wordsOfRef, type StateWords } from "../../site/state-words.js";
import type { Claim } from "../rule/claims.js";
import { MOST_NAMED } from "../rule/words.js";

/** What a signal read over a stretch of time, in the unit that the user wrote, such as `118 in`; null where it reads words. */
export type ReadText = (signal: string, from: number, to: number) => string | null;

/** A length of time, to the second. */
export function lengthText(ms: number): string {
  return durationText(Math.round(ms / SECOND_MS) * SECOND_MS);
}

/** A local time of day of the site, to the second. */
export function timeText(instant: number, { timeZone }: Pick<Site, "timeZone">): string {
  return DateTime.fromMillis(instant, { zone: zoneOf(timeZone) }).toFormat("HH:mm:ss");
}

/** A local day of the site: `16 October 2026`. */
export function dateText(instant: number, { timeZone }: Pick<Site, "timeZone">): string {
  return DateTime.fromMillis(instant, { zone: zoneOf(timeZone) }).toFormat("d MMMM yyyy", { locale: "en-GB" });
}

/** `from 17:15:06 to 10:16:07 (17 h 1 min 1 s)`, `since 08:14`, `until 10:16`, `all the time`. */
export function stretchText(from: number | null, to: number | null, site: Pick<Site, "timeZone">): string {
  if (from === null) return to === null ? "all the time" : `until ${timeText(to, site)}`;
  if (to === null) return `from ${timeText(from, site)} on`;
  return `from ${timeText(from, site)} to ${timeText(to, site)}${to - from < HOUR_MS ? "" : ` (${lengthText(to - from)})`}`;
}

/** How the two states of a signal's subject are called. */
export function wordsOf(signal: string, site: Pick<Site, "signals" | "subjects">): StateWords {
  return wordsOfRef(signal, site);
}

/** The word for a signal's state. */
export function stateOfText(signal: string, state: 0 | 1, site: Pick<Site, "signals" | "subjects">): string {
  const words = wordsOf(signal, site);
  return state === 1 ? words.on : words.off;
}

/** `phone-tom said here`, or `bay-1-wall read 118 in, which counts as empty,` where a reading is known. */
export function saidText(signal: string, reading: string | null, word: string): string {
  return `${signal} ${reading === null ? `said ${word}` : `read ${reading}, which counts as ${word},`}`;
}

/** What a signal did when its claim came to hold: `phone-tom turned here`, `bay-1-wall said occupied`. */
export function cameText(claim: Claim, site: Pick<Site, "signals" | "subjects">): string {
  if (claim.form === "mixed") return `what the rule asks of ${claim.signal} was true`;
  if (claim.form === "turned") return `${claim.signal} turned ${stateOfText(claim.signal, claim.to, site)}`;
  if (claim.form === "not-turned") return `the window of ${claim.signal} was over`;
  const word = stateOfText(claim.signal, claim.state, site);
  return claim.form === "throughout" && claim.spanMs > 0 ? `${claim.signal} had said ${word} for ${durationText(claim.spanMs)}` : `${claim.signal} said ${word}`;
}

/** ` Also in the way: phone-mira, phone-tom.`; empty without any. */
export function alsoText(signals: readonly string[], lead: string): string {
  if (signals.length === 0) return "";
  const more = signals.length - MOST_NAMED;
  return ` ${lead}: ${signals.slice(0, MOST_NAMED).join(", ")}${more > 0 ? ` and ${more} more` : ""}.`;
}
