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
    if (reading.form !== "distance" || band?.farMetres !== 0) continue;
    notes.push(
      `${id} has not seen a vehicle yet: it tells that the bay is empty, and is unknown at any other reading. A rule that waits for it to say occupied never acts. ` +
        "Once a vehicle has stood there, write its distances under “present”.",
    );
  }
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
      `${id} read neither occupied nor empty for ${hours(between.total)}${between.longest < between.total ? `, at most ${hours(between.longest)} at a time` : ""}: something else may have stood there. ` +
        `That time confirms nothing, but rules still took it for empty. To make it unknown to them too, write “${emptyText(empty, band, reading.unit)}” beside “present” in the site file.`,
    );
  }
  if (untold.length > 0) {
    const [one, them] = untold.length === 1 ? ["it does", "it"] : ["they do", "them"];
    notes.push(
      `What ${untold.join(", ")} ${untold.length === 1 ? "reads" : "read"} in an empty bay is not clear: ${one} not come to rest at one distance outside “present” in three absences. So everything outside “present” counts as empty, even another vehicle. Write “empty: [near, far]” for ${them} in the site file.`,
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
