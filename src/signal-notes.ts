import { emptyNotes } from "./bands/empty-notes.js";
import type { EmptyReading } from "./bands/empty-reading.js";
import { localText } from "./period.js";
import type { RetellableAccounts } from "./signals/accounts.js";
import type { Quiet, QuietWhat } from "./signals/quiet-groups.js";
import type { Site } from "./site/site.js";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** What a reader must know of the signals before believing a figure, the gravest first. `empties`: see `learnEmpties`. */
export function signalNotes(site: Site, told: Pick<RetellableAccounts, "accounts" | "quiets">, empties: ReadonlyMap<string, EmptyReading | null>): string[] {
  return [...quietNotes(told.quiets, site.timeZone), ...emptyNotes(site, empties, told.accounts)];
}

/** A note on every quiet. One that a wider group's explains for its greater part is not told again. `quiets`: widest groups first. */
export function quietNotes(quiets: readonly Quiet[], timeZone: string): string[] {
  const told: Quiet[] = [];
  for (const quiet of quiets) if (!told.some((wider) => explains(wider, quiet))) told.push(quiet);
  return told
    .toSorted((a, b) => a.from - b.from)
    .map(({ what, signals, from, to, usualMs }) => {
      const until = to === Infinity ? `From ${localText(from, timeZone)} on nothing ${whatText(what)} was heard any more` : `Nothing ${whatText(what)} was heard from ${localText(from, timeZone)} to ${localText(to, timeZone)} (${lengthText(to - from)})`;
      const usual = usualMs <= HOUR_MS ? "an hour" : lengthText(usualMs);
      return `${until}, though it was never quiet for longer than ${usual} else: was it down? What happened then went unseen, and ${namesText(signals)} are unknown in that time. If nobody was there, say so in the diary.`;
    });
}

function explains(wider: Quiet, quiet: Quiet): boolean {
  const shared = Math.min(wider.to, quiet.to) - Math.max(wider.from, quiet.from);
  return quiet.signals.every((signal) => wider.signals.includes(signal)) && (wider.to === quiet.to || shared > (quiet.to - quiet.from) / 2);
}

function whatText(what: QuietWhat): string {
  if (what.form === "site") return "at all";
  return what.form === "source" ? `from the source ${what.name}` : `that depends on ${what.name}`;
}

const MOST_NAMES = 6;

function namesText(signals: readonly string[]): string {
  return signals.length <= MOST_NAMES ? signals.join(", ") : `${signals.slice(0, MOST_NAMES - 1).join(", ")} and ${signals.length - MOST_NAMES + 1} more signals`;
}

function lengthText(ms: number): string {
  return ms >= 3 * DAY_MS ? `${Number((ms / DAY_MS).toFixed(1))} days` : `${Math.round(ms / HOUR_MS)} h`;
}
