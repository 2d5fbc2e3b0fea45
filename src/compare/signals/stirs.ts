import { quantileSorted } from "d3-array";
import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { intersection, union, type Interval } from "../../ground/intervals.js";
import { isNight } from "../../ground/night.js";
import { DAY_MS, HOUR_MS } from "../../ground/units.js";
import type { StirsFinding } from "../../result/stirs.js";
import type { Site } from "../../site/site.js";
import { stretches } from "../../timeline/stretches.js";
import { ON } from "../../timeline/timeline.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";

/** One silence in twenty is longer: what a rule that waits for silence has to outlast (our own choice). */
const LONG_SHARE = 0.95;

/** Of every person with one-sided signals: how often each stirred, and how long silence at home is usual. In the site's order. */
export function stirsOf(site: Pick<Site, "signals" | "subjects" | "timeZone">, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): StirsFinding[] {
  return site.subjects.flatMap(({ id: subject }) => {
    const signals = site.signals.filter((signal) => signal.subject === subject && signal.kind === "stir").map(({ id }) => ({ id, stirs: stirsIn(accounts.get(id)) }));
    if (signals.length === 0) return [];
    const here = stretches(book(subject, []).timeline, ON);
    const hereMs = here.reduce((sum, { from, to }) => sum + to - from, 0);
    const all = silencesIn(here, union(signals.flatMap(({ stirs }) => stirs)));
    const byNight = (one: Interval): boolean => isNight(DateTime.fromMillis(one.from, { zone: zoneOf(site.timeZone) }).hour);
    return [
      {
        subject,
        hereHours: hereMs / HOUR_MS,
        signals: signals.map(({ id, stirs }) => ({ signal: id, times: stirs.length, timesADayHere: hereMs === 0 ? null : (intersection(stirs, here).length * DAY_MS) / hereMs })),
        silences: { day: lengthsOf(all.filter((one) => !byNight(one))), night: lengthsOf(all.filter(byNight)) },
      },
    ];
  });
}

function stirsIn(account: SignalAccount | undefined): Interval[] {
  return account === undefined ? [] : stretches(account.stirring ?? account.account, ON);
}

/** From the end of a stir to the next, where both lie in one stay: what lies at its ends may have been on the way. */
function silencesIn(here: readonly Interval[], stirs: readonly Interval[]): Interval[] {
  return here.flatMap((stay) => {
    const inside = intersection(stirs, [stay]);
    return inside.slice(1).map(({ from }, i) => ({ from: inside[i]?.to ?? from, to: from }));
  });
}

function lengthsOf(silences: readonly Interval[]): StirsFinding["silences"]["day"] {
  const hours = silences.map(({ from, to }) => (to - from) / HOUR_MS).sort((a, b) => a - b);
  return { count: hours.length, medianHours: quantileSorted(hours, 0.5) ?? null, longHours: quantileSorted(hours, LONG_SHARE) ?? null, longestHours: hours.at(-1) ?? null };
}
