import { sum } from "d3-array";
import { timesText } from "../../../judge/rule/words.js";
import { rateLowerBound } from "../../../statistics/rate.js";
import type { FleetPairFinding } from "../../../result/fleet.js";
import { daysWith, type Examined, type Fault, nightsLostTo, sharedBy, total } from "./fault.js";

/** Two sensors that differ less often do so by slips. Our own choice. */
const LEAST_DIFFERING = 4;

/**
 * Pairs of one place that differ while nobody can tell which is wrong: more often than the limits of the site allow one
 * sensor, or than other pairs of the same kinds. Pairs with a sensor that is listed already are left out.
 */
export function pairFaults(audit: Examined, pairs: readonly FleetPairFinding[], listed: ReadonlySet<string>): Fault[] {
  const { counts, upkeep, sensors } = audit;
  return pairs.flatMap((pair): Fault[] => {
    const [one, other] = pair.signals;
    if (pair.site !== counts.site.name || listed.has(one) || listed.has(other)) return [];
    const both = sensors.filter(({ counts: { signal } }) => signal === one || signal === other);
    const bay = counts.bays.find(({ bay: id }) => id === pair.subject);
    // A door has no arrivals: its changes are those that its sensors saw.
    const seen = Math.max(...both.map(({ counts: own }) => Math.max(own.turns, own.lagsArriving.length + own.lagsLeaving.length)), 0);
    const turns = Math.max(bay === undefined ? seen : bay.arrivals + bay.departures, Math.round(pair.days), 1);
    const { count, standsOut, expected } = pair.disagreements;
    const low = rateLowerBound(count, 1, counts.site.confidence) / turns;
    // They differ once from a missed leaving to the coming back: that is two changes.
    const isOften = 2 * low > upkeep.limits.missedShare;
    if (count < LEAST_DIFFERING || (!standsOut && !isOften)) return [];
    const hours = upkeep.pairs.find(({ signals }) => signals.includes(one) && signals.includes(other))?.differedHours ?? [];
    const first = pair.lookFirst === null ? "" : ` Look first at ${pair.lookFirst.signal}: ${pair.lookFirst.why}.`;
    const usual = standsOut && expected !== null ? `; typical for other pairs would be ${Number(expected.toPrecision(2))}` : "";
    return [
      {
        kind: "place", site: counts.site.name, place: `${one} and ${other}`, ...sharedBy(both), subject: pair.subject, sensors: [one, other], mode: "pair differs",
        ...daysWith([hours], upkeep.days), turns, wrong: Math.min(count, turns), silentHours: 0, wrongShareLow: Math.min(1, low),
        nightsLost: nightsLostTo([one, other], upkeep),
        reason: `They differ ${timesText(count)}${hours.length === 0 ? "" : `, ${Math.round(total(hours))} h in all`}${usual}. Nobody can tell which is wrong.${first}`,
        weight: count + sum(hours) / 24, size: { unit: "times they differ", value: count }, ask: null,
      },
    ];
  });
}
