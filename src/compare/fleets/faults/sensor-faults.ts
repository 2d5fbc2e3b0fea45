import { capitalised } from "../../../ground/first-letter.js";
import { max, sum } from "d3-array";
import { countText, listText, percentText } from "../../../judge/rule/words.js";
import { medianOf } from "../../../statistics/median.js";
import { rateLowerBound } from "../../../statistics/rate.js";
import { shareLowerBound } from "../../../statistics/share.js";
import type { Standings } from "../compare.js";
import { daysWith, type Examined, type Fault, lateWeight, type Mode, nightsLostTo, type Sensor, sharedBy, total } from "./fault.js";
import type { WideFaults } from "./wide-faults.js";

/** So many changes missed one after another are no slips. Our own choice. */
const STUCK_RUN = 6;
/** And so many are a fault whatever share of a busy sensor's changes they are. Our own choice. */
const STUCK_ANYWAY = 10;
/** What stands out among its fellows is listed only from this share of the site's limit on: less is no matter. Our own choice. */
const MATTERS = 0.5;
/** A sensor is late only if it is this many times as late as is usual for its kind. Our own choice. */
const LATER_THAN_USUAL = 2;
/** Fewer sensors of a kind show no usual delay. */
const FEWEST_OF_KIND = 4;
/** One or two mistakes in a month prove nothing. Our own choice. */
const LEAST_WRONG = 3;
/** A reading that moves by less in a month is the weather's. Our own choice; metres. */
const LEAST_DRIFT_METRES = 0.02;

/** What one sensor did, without what something else explains. */
interface Doings {
  readonly sensor: Sensor;
  readonly turns: number;
  readonly missed: number;
  readonly falseReports: number;
  readonly flickers: number;
  readonly silentHours: number;
  readonly delay: number | null;
}

/** How the fellows of this and all other sites bear on a site's sensors. */
export interface FellowView {
  /** How a signal stands among its fellows. */
  readonly standing: (site: string, signal: string) => Standings | null;
  /** The usual delay of a kind, seconds; null where there are too few. */
  readonly usualDelay: (kind: string) => number | null;
  /** Whether its model or firmware explains a signal. */
  readonly isOfBadMake: (site: string, signal: string) => boolean;
}

/** The usual delay of each kind over all audits of a round. */
export function usualDelays(audits: readonly Examined[]): (kind: string) => number | null {
  const byKind = new Map<string, number[]>();
  for (const { counts, days } of audits.flatMap(({ sensors }) => sensors)) {
    if (days.delay !== null) byKind.set(counts.kind, [...(byKind.get(counts.kind) ?? []), days.delay.medianSeconds]);
  }
  return (kind) => {
    const all = byKind.get(kind) ?? [];
    return all.length < FEWEST_OF_KIND ? null : medianOf(all);
  };
}

/** The faults of single sensors of one audit: beyond a limit of the site by themselves, or among their fellows; one a sensor. */
export function sensorFaults(audit: Examined, wide: WideFaults, fellows: FellowView): Fault[] {
  const doings = withoutSiblings(audit.sensors.map((sensor) => doingsOf(sensor, wide)));
  return doings.flatMap((one) => {
    const fault = faultOf(one, audit, fellows);
    return fault === null ? [] : [fault];
  });
}

function doingsOf(sensor: Sensor, wide: WideFaults): Doings {
  const { counts, days } = sensor;
  const isExplained = wide.explained.has(counts.signal);
  return {
    sensor,
    turns: counts.turns,
    missed: isExplained ? 0 : counts.missedTurns,
    falseReports: isExplained ? 0 : counts.phantoms,
    flickers: counts.flaps,
    silentHours: Math.max(0, total(days.silentHours) - (wide.silent.get(counts.signal)?.hours ?? 0)),
    delay: isExplained ? null : (days.delay?.lowSeconds ?? null),
  };
}

/**
 * While one sensor of a place is stuck, another that tells the truth may be outvoted: false reports on the days on which
 * another one missed more than it did itself are that one's.
 */
function withoutSiblings(all: readonly Doings[]): Doings[] {
  return all.map((one) => {
    const siblings = all.filter((other) => other !== one && other.sensor.counts.subject === one.sensor.counts.subject);
    const worse = siblings.filter(({ sensor }) => sensor.days.missedRun.count >= STUCK_RUN && sensor.counts.missedTurns > one.missed);
    if (worse.length === 0) return one;
    const isTheirs = (day: number): boolean => worse.some(({ sensor }) => (sensor.days.missed[day] ?? 0) > (one.sensor.days.missed[day] ?? 0));
    const own = (byDay: readonly number[]): number => sum(byDay, (count, day) => (isTheirs(day) ? 0 : count));
    return { ...one, missed: Math.min(one.missed, own(one.sensor.days.missed)), falseReports: Math.min(one.falseReports, own(one.sensor.days.falseReports)) };
  });
}

/** One reason to list a sensor, and what it did. */
interface Found {
  readonly mode: Mode;
  readonly text: string;
  readonly size: Fault["size"];
}

function faultOf(one: Doings, audit: Examined, fellows: FellowView): Fault | null {
  const { counts, upkeep } = audit;
  const { signal } = one.sensor.counts;
  const standing = fellows.standing(counts.site.name, signal);
  const byLimit = beyondLimits(one, audit, fellows);
  const among = standingOut(one, standing, upkeep);
  // What a bad model or firmware explains is one order for all of them, unless a sensor is past a limit by itself.
  const found = byLimit.length > 0 ? byLimit : fellows.isOfBadMake(counts.site.name, signal) ? [] : among;
  const [counted] = found;
  if (counted === undefined) return null;
  const first = asItsPageSays(counted, one.sensor);
  const { days } = one.sensor;
  const wrong = one.missed + one.falseReports;
  const seen = first.mode === "dark" ? [days.silentHours] : first.mode === "chattering" ? [first.size.unit === "flickers" ? (days.flickers ?? []) : days.falseReports] : first.mode === "stuck" ? [] : [days.missed, days.falseReports];
  const stuckDays = { firstDay: days.missedRun.firstDay, lastDay: days.missedRun.lastDay };
  return {
    kind: "place", site: counts.site.name, place: signal, ...sharedBy([one.sensor]), sensors: [signal], mode: first.mode, ...(first === counted ? {} : { countedAs: counted.mode }),
    ...(first.mode === "stuck" ? stuckDays : daysWith(seen, upkeep.days)),
    turns: one.turns, wrong, silentHours: Math.round(10 * one.silentHours) / 10,
    wrongShareLow: one.turns === 0 ? null : wrongLow(one, counts.site.confidence),
    nightsLost: nightsLostTo([signal], upkeep),
    reason: `${capitalised(listText(found.map(({ text }) => text)))}.`,
    weight: wrong + one.silentHours / 24 + one.flickers / 10 + (first.mode === "late" ? lateWeight(one.sensor, upkeep) : 0), size: first.size, ask: null,
  };
}

/**
 * One that passed over a visit missed its beginning and its end: two changes are one fact. At least this share is
 * wrong, missed and made up together.
 */
function wrongLow({ missed, falseReports, turns, sensor }: Doings, confidence: number): number {
  return Math.min(1, missedLow(missed, turns, confidence) + falseLow(falseReports, turns, sensor, confidence));
}

function missedLow(missed: number, turns: number, confidence: number): number {
  const [facts, of] = [Math.floor(missed / 2), Math.max(1, Math.ceil(turns / 2))];
  return facts === 0 ? 0 : shareLowerBound(Math.min(facts, of), of, confidence);
}

/**
 * The confidence at which one sensor of a site is held to its limits, so that all of them together raise a false alarm no
 * more often than one alone would at the site's confidence (Bonferroni).
 */
export function strictConfidence({ counts: { site, signals } }: Pick<Examined, "counts">): number {
  return 1 - (1 - site.confidence) / Math.max(1, signals.length);
}

/** For each change; a sensor that hardly has any is held to a leaving and a coming back a day. */
function falseLow(count: number, turns: number, { counts }: Sensor, confidence: number): number {
  return rateLowerBound(count, 1, confidence) / Math.max(turns, 2 * counts.judgedDays, 1);
}

/**
 * What the site's own page calls the same sensor, where that says more than the counts do: one that is blind for days misses changes and
 * seems to tell of others that nobody made. So the pages of fleet and site speak of one fault by one name.
 */
function asItsPageSays(counted: Found, { days: { fault } }: Sensor): Found {
  if (fault === "blind" && (counted.mode === "chattering" || counted.mode === "missing turns")) return { ...counted, mode: fault };
  // A sensor that chatters may also pass over changes one after another, and its page names that: it is not stuck.
  return fault === "stuck" && counted.mode === "missing turns" ? { ...counted, mode: fault } : counted;
}

/** In what it is past the limits of its site, whatever its fellows do; the gravest first. */
function beyondLimits(one: Doings, audit: Examined, fellows: FellowView): Found[] {
  const { counts, upkeep } = audit;
  const { missed, falseReports, flickers, turns, silentHours, delay, sensor } = one;
  const { limits } = upkeep;
  const confidence = strictConfidence(audit);
  const usual = fellows.usualDelay(sensor.counts.kind) ?? 0;
  const isLate = delay !== null && delay > limits.lateSeconds && delay > LATER_THAN_USUAL * usual;
  const isMissing = missed >= LEAST_WRONG && missedLow(missed, turns, confidence) > limits.missedShare;
  const run = Math.min(missed, sensor.days.missedRun.count);
  const isStuck = !isLate && (run >= STUCK_ANYWAY || (isMissing && run >= STUCK_RUN && 2 * run >= missed));
  const isChattering = falseReports >= LEAST_WRONG && falseLow(falseReports, turns, sensor, confidence) > limits.falseShare;
  const isFlickering = flickers >= 2 * LEAST_WRONG && falseLow(flickers, turns, sensor, confidence) > limits.falseShare;
  const hours = counts.period.days * 24 - total(sensor.days.hiddenHours);
  const isDark = hours > 0 && silentHours > limits.silentShare * hours;
  const median = sensor.days.delay?.medianSeconds ?? 0;
  const found: (Found | false)[] = [
    isStuck && { mode: "stuck", text: `missed ${missed} of ${turns} changes, ${sensor.days.missedRun.count} one after another`, size: { unit: "changes missed", value: missed } },
    isLate && { mode: "late", text: `usually ${Math.round(median / 6) / 10} min late`, size: { unit: "minutes late", value: Math.round(median / 6) / 10 } },
    isMissing && !isStuck && !isLate && { mode: "missing turns", text: `missed ${missed} of ${turns} changes`, size: { unit: "changes missed", value: missed } },
    isChattering && { mode: "chattering", text: `gave ${countText(falseReports, "false report", "false reports")}`, size: { unit: "false reports", value: falseReports } },
    isFlickering && !isChattering && { mode: "chattering", text: `went on and off again within a minute ${flickers} times`, size: { unit: "flickers", value: flickers } },
    isDark && darkText(silentHours, hours),
  ];
  return found.filter((fault) => fault !== false);
}

function darkText(silentHours: number, hours: number): Found {
  const share = silentHours / hours;
  const text = share > 0.995 ? "was never heard" : `was silent for ${Math.round(silentHours)} h, ${percentText(share, "down")} of the time`;
  return { mode: "dark", text, size: { unit: "hours silent", value: Math.round(silentHours) } };
}

/** In what it stands out among its fellows. */
function standingOut({ missed, falseReports, turns, silentHours, sensor }: Doings, standing: Standings | null, { limits, days }: Examined["upkeep"]): Found[] {
  if (standing === null) return [];
  const changes = Math.max(turns, 2 * sensor.counts.judgedDays, 1);
  const isMuchWrong = missed + falseReports >= LEAST_WRONG && (missed + falseReports) / changes > MATTERS * Math.min(limits.missedShare, limits.falseShare);
  const { faults, silences, flickers } = standing;
  const usual = (expected: number | null): string => `; typical for the others would be ${Number((expected ?? 0).toPrecision(2))}`;
  const chatters = falseReports > missed;
  const found: (Found | false)[] = [
    faults.standsOut &&
      isMuchWrong &&
      (chatters
        ? { mode: "chattering", text: `gave ${countText(falseReports, "false report", "false reports")} and missed ${missed} of ${turns} changes${usual(faults.expected)}`, size: { unit: "false reports", value: falseReports } }
        : { mode: "missing turns", text: `missed ${missed} of ${turns} changes and gave ${countText(falseReports, "false report", "false reports")}${usual(faults.expected)}`, size: { unit: "changes missed", value: missed } }),
    flickers.standsOut && flickers.count / changes > MATTERS * limits.falseShare && { mode: "chattering", text: `went on and off again within a minute ${flickers.count} times${usual(flickers.expected)}`, size: { unit: "flickers", value: flickers.count } },
    silences.standsOut && silentHours > MATTERS * limits.silentShare * days * 24 && { mode: "dark", text: `fell silent ${silences.count} times${usual(silences.expected)}`, size: { unit: "silences", value: silences.count } },
  ];
  return found.filter((fault) => fault !== false);
}

/** Meters whose readings creep, within the audit or since the one before. Those that are listed already are left out. */
export function driftFaults(audit: Examined, before: Examined | null, listed: ReadonlySet<string>): Fault[] {
  return audit.sensors.flatMap((sensor): Fault[] => {
    const { counts: own } = sensor;
    if (listed.has(own.signal) || own.kind !== "distance") return [];
    const within = audit.upkeep.changes.filter(({ signal, what }) => signal === own.signal && what === "reading");
    const moved = max(within, ({ before: was, after }) => Math.abs(after - was)) ?? 0;
    const was = before?.sensors.find(({ counts }) => counts.signal === own.signal && counts.model === own.model && counts.firmware === own.firmware);
    const since = movedBy(own.distances?.occupied ?? [], was?.counts.distances?.occupied ?? []);
    const most = Math.max(moved, since);
    if (most < LEAST_DRIFT_METRES) return [];
    const first = within[0];
    const text = first === undefined || since > moved ? `reads ${cm(most)} otherwise than in the audit before` : `reads ${cm(moved)} otherwise since about day ${first.day + 1}`;
    return [
      {
        kind: "place", site: audit.counts.site.name, place: own.signal, ...sharedBy([sensor]), sensors: [own.signal], mode: "drifting",
        firstDay: first?.day ?? 0, lastDay: Math.max(0, audit.upkeep.days - 1), turns: own.turns, wrong: own.missedTurns + own.phantoms, silentHours: 0, wrongShareLow: null,
        nightsLost: nightsLostTo([own.signal], audit.upkeep), reason: `${capitalised(text)}${bandText(own.distances)}.`,
        weight: 10 * most, size: { unit: "cm, vehicle in", value: Math.round(100 * (medianOf(own.distances?.occupied ?? []) ?? 0)) }, ask: null,
      },
    ];
  });
}

/** Fewer stays show no usual reading. Our own choice. */
const FEWEST_STAYS = 8;
/** A reading moves with the air: by up to this share of itself. As in the comparison of months. */
const AIR_SHARE = 0.036;

/** By how much the usual reading moved beyond what colder air explains and beyond where its readings lie; 0 if not. */
function movedBy(now: readonly number[], before: readonly number[]): number {
  const [here, there] = [medianOf(now), medianOf(before)];
  if (here === null || there === null || now.length < FEWEST_STAYS || before.length < FEWEST_STAYS) return 0;
  const moved = Math.abs(here - there);
  return moved > Math.max(LEAST_DRIFT_METRES, AIR_SHARE * there) ? moved : 0;
}

function bandText(distances: Sensor["counts"]["distances"]): string {
  const reading = medianOf(distances?.occupied ?? []);
  if (distances == null || reading === null) return "";
  const room = Math.min(reading - distances.present.nearMetres, distances.present.farMetres - reading);
  return room > 0 ? `; ${cm(room)} more and it leaves its band` : "; it has left its band";
}

function cm(metres: number): string {
  return `${Math.round(metres * 100)} cm`;
}
