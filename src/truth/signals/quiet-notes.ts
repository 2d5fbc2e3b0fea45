import { DAY_MS, HOUR_MS } from "../../ground/units.js";
import { localText } from "../../intake/period.js";
import type { Quiet, QuietWhat } from "./quiet.js";

/**
 * A note on every quiet, except those that a wider group's quiet explains for the greater part. `quiets`: widest groups
 * first.
 */
export function quietNotes(quiets: readonly Quiet[], timeZone: string): string[] {
  const told: Quiet[] = [];
  for (const quiet of quiets) if (!told.some((wider) => explains(wider, quiet))) told.push(quiet);
  return told
    .toSorted((a, b) => a.from - b.from)
    .map(({ what, signals, from, to, usualMs }) => {
      const until =
        to === Infinity
          ? `Nothing ${whatText(what, signals)} was heard after ${localText(from, timeZone)}`
          : `Nothing ${whatText(what, signals)} was heard from ${localText(from, timeZone)} to ${localText(to, timeZone)} (${lengthText(to - from)})`;
      const usual = usualMs <= HOUR_MS ? "an hour" : lengthText(usualMs);
      return `${until}, though otherwise it was never quiet for longer than ${usual}. Was it down? What happened then went unseen, and ${namesText(signals)} ${signals.length === 1 ? "is" : "are"} unknown for that time. If nobody was there, say so in the diary.`;
    });
}

function explains(wider: Quiet, quiet: Quiet): boolean {
  const shared = Math.min(wider.to, quiet.to) - Math.max(wider.from, quiet.from);
  return quiet.signals.every((signal) => wider.signals.includes(signal)) && (wider.to === quiet.to || shared > (quiet.to - quiet.from) / 2);
}

/**
 * A source is named by one of its signals: redaction knows the names of all signals, so a redacted note gives none
 * away.
 */
function whatText(what: QuietWhat, signals: readonly string[]): string {
  if (what.form === "site") return "at all";
  return what.form === "source" ? `from the source that ${signals[0]} is in` : `that depends on ${what.name}`;
}

const MOST_NAMES = 6;

function namesText(signals: readonly string[]): string {
  return signals.length <= MOST_NAMES
    ? signals.join(", ")
    : `${signals.slice(0, MOST_NAMES - 1).join(", ")} and ${signals.length - MOST_NAMES + 1} more signals`;
}

function lengthText(ms: number): string {
  return ms >= 3 * DAY_MS ? `${Number((ms / DAY_MS).toFixed(1))} days` : `${Math.round(ms / HOUR_MS)} h`;
}
