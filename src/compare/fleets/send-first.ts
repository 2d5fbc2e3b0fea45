import type { FleetBayFinding, FleetPairFinding, FleetSignalFinding, FleetStanding, Fleet } from "../../result/fleet-schema.js";

type Visit = Fleet["sendFirst"][number];

/** As many places as one person sees to in a week. Our own choice. */
export const MOST_VISITS = 10;
/** A signal that was known for less than this share of its time is dark: no statistics are needed to send someone. Our own choice. */
export const DARK_BELOW = 0.5;

const SPAN_DAYS = 30;

/**
 * Where to send someone first: places (a bay, a door, a person's phone) with something that stands out among its fellows, or
 * with a dark signal, the heaviest first. Weight: faults and silences in 30 days beyond what is expected, by the bay or by its
 * signals, whichever is more; and the days in 30 in which its signals were dark. Our own choice: one fault more weighs as much as one dark day.
 */
export function sendFirst(bays: readonly FleetBayFinding[], signals: readonly FleetSignalFinding[], pairs: readonly FleetPairFinding[]): Visit[] {
  const places = new Map<string, { site: string; subject: string; reasons: string[]; byBay: number; bySignals: number; dark: number }>();
  const placeOf = (site: string, subject: string): NonNullable<ReturnType<typeof places.get>> => {
    const key = JSON.stringify([site, subject]);
    const place = places.get(key) ?? { site, subject, reasons: [], byBay: 0, bySignals: 0, dark: 0 };
    places.set(key, place);
    return place;
  };
  // Signals before bays: whoever is sent wants to know which device to look at.
  for (const signal of signals) {
    for (const [noun, standing] of standingOut(signal)) {
      const place = placeOf(signal.site, signal.subject);
      place.reasons.push(`${signal.signal}: ${reasonText(noun, standing, "signals")}.${noun === "faults" ? ` ${faultsText(signal)}` : ""}`);
      place.bySignals += excess(standing, signal.days);
    }
    if (signal.days > 0 && signal.knownShare < DARK_BELOW) {
      const place = placeOf(signal.site, signal.subject);
      place.reasons.push(`${signal.signal}: dark, known for only ${Math.round(signal.knownShare * 100)} % of the time.`);
      place.dark += (1 - signal.knownShare) * SPAN_DAYS;
    }
  }
  for (const { site, subject, signals: both, days, disagreements, lookFirst } of pairs) {
    if (!disagreements.standsOut) continue;
    const place = placeOf(site, subject);
    const where = lookFirst === null ? "look at both" : `look at both, first at ${lookFirst.signal}: ${lookFirst.why}`;
    place.reasons.push(`${both.join(" and ")} differ: ${reasonText("disagreements", disagreements, "pairs")}. Nobody can tell which of the two is wrong: ${where}.`);
    place.bySignals += excess(disagreements, days);
  }
  for (const bay of bays) {
    for (const [noun, standing] of standingOut(bay)) {
      const place = placeOf(bay.site, bay.bay);
      place.reasons.push(`The bay: ${reasonText(noun, standing, "bays")}.`);
      place.byBay += excess(standing, bay.days / Math.max(1, bay.signals.length));
    }
  }
  return [...places.values()]
    .map(({ site, subject, reasons, byBay, bySignals, dark }) => ({ site, subject, reasons, weight: Math.max(byBay, bySignals) + dark }))
    .sort((a, b) => b.weight - a.weight || (JSON.stringify([a.site, a.subject]) < JSON.stringify([b.site, b.subject]) ? -1 : 1))
    .slice(0, MOST_VISITS);
}

function standingOut(unit: { readonly faults: FleetStanding; readonly silences: FleetStanding }): ["faults" | "silences", FleetStanding][] {
  return (["faults", "silences"] as const).flatMap((noun) => (unit[noun].standsOut ? [[noun, unit[noun]] as ["faults" | "silences", FleetStanding]] : []));
}

/** What the faults of a signal were: what it did not report, and what it reported that was not so. */
function faultsText({ missedTurns, turns, phantoms }: FleetSignalFinding): string {
  return `It missed ${missedTurns} of ${turns} turns to on or off, and reported ${phantoms} that did not happen.`;
}

function reasonText(noun: "faults" | "silences" | "disagreements", { count, expected, controlHigh, adjustedPValue }: FleetStanding, fellows: "bays" | "signals" | "pairs"): string {
  const p = (adjustedPValue ?? 1) < 0.0001 ? "p < 0.0001" : `p = ${Number((adjustedPValue ?? 1).toPrecision(2))}`;
  return `${count} ${noun}; by the other ${fellows}, about ${Number((expected ?? 0).toPrecision(2))} were to be expected and at most ${controlHigh ?? 0} (${p})`;
}

function excess({ count, expected }: FleetStanding, days: number): number {
  return days === 0 ? 0 : (Math.max(0, count - (expected ?? 0)) / days) * SPAN_DAYS;
}
