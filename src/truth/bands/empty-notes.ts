import type { SignalAccount } from "../signals/account.js";
import { metresPerUnit } from "../../site/length.js";
import type { Band, DistanceUnit, Site } from "../../site/site.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import { stretches } from "../../timeline/stretches.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { EmptyReading } from "./empty-reading.js";
import { HOUR_MS, MINUTE_MS } from "../../ground/units.js";

/**
 * Readings between the band and the empty readings for at least this long (milliseconds) are worth a note: a hatch is
 * open for less. Our own choice.
 */
const LEAST_STANDING_MS = 30 * MINUTE_MS;

/**
 * Notes on distance signals whose site file does not say how an empty bay reads: if something stood between the band
 * and the empty readings for half an hour or longer, or if these could not be learnt.
 */
export function emptyNotes(
  site: Pick<Site, "signals">,
  learnt: ReadonlyMap<string, EmptyReading | null>,
  accounts: ReadonlyMap<string, SignalAccount>,
): string[] {
  const notes: string[] = [];
  const untold: string[] = [];
  for (const { id, reading, band } of site.signals) {
    const [empty, account] = [learnt.get(id), accounts.get(id)];
    if (empty === undefined || account === undefined || reading.form !== "distance" || band === null) continue;
    if (empty === null) {
      if (durations(account.account).offMs > 0) untold.push(id);
      continue;
    }
    const between = betweenMs(account);
    if (between.longest < LEAST_STANDING_MS) continue;
    notes.push(
      `For ${hours(between.total)} in all, once for ${hours(between.longest)}, ${id} read neither within "present" nor as it does when the bay is empty: something else may have stood there. ` +
        `So it confirms nothing in that time; rules still took it for empty, as the site file says no more. Write \`${emptyText(empty, band, reading.unit)}\` beside "present", and it is unknown to them too.`,
    );
  }
  if (untold.length > 0) {
    const [one, them] = untold.length === 1 ? ["its readings do", "it"] : ["their readings do", "them"];
    notes.push(
      `How an empty bay reads to ${untold.join(", ")} cannot be told: ${one} not rest at one place outside "present" in three absences. So all that is not within "present" counts as empty, another vehicle too. Write "empty: [near, far]" for ${them} in the site file.`,
    );
  }
  return notes;
}

/** How long the signal vouches for nothing though it says something, and the longest such stretch. Milliseconds. */
function betweenMs({ account, vote }: SignalAccount): { total: number; longest: number } {
  let [total, longest] = [0, 0];
  if (vote === undefined) return { total, longest };
  for (const { from, to } of stretches(vote, UNKNOWN)) {
    const ms = knownMs(restrict(account, from, to));
    total += ms;
    longest = Math.max(longest, ms);
  }
  return { total, longest };
}

function knownMs(timeline: Timeline): number {
  const { onMs, offMs } = durations(timeline);
  return onMs + offMs;
}

/** What to write in the site file, in the signal's own unit, rounded outwards but never into the band. */
function emptyText({ ranges, farthestMetres }: EmptyReading, band: Band, unit: DistanceUnit): string {
  const text = (metres: number, round: (x: number) => number): string => {
    const digits = Math.max(0, 2 - Math.floor(Math.log10(Math.max(metres / metresPerUnit[unit], 0.01))));
    return String(Number((round(Number(((metres / metresPerUnit[unit]) * 10 ** digits).toFixed(6))) / 10 ** digits).toFixed(digits)));
  };
  const [range] = ranges;
  if (range === undefined) return `empty: [${text(farthestMetres, Math.floor)}, ${text(farthestMetres, Math.ceil)}]`;
  const { nearMetres } = range;
  const touches = nearMetres <= band.farMetres + band.slackMetres;
  return `empty: [${text(nearMetres, touches ? Math.ceil : Math.floor)}, ${text(Math.max(farthestMetres, nearMetres), Math.ceil)}]`;
}

function hours(ms: number): string {
  const minutes = Math.round(ms / MINUTE_MS);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(ms / HOUR_MS)} h ${Math.round((ms % HOUR_MS) / MINUTE_MS)} min`;
}
