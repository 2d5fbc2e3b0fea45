import { capitalised } from "../../../ground/first-letter.js";
import { max, sum } from "d3-array";
import { countText, numberText, percentText, timesText } from "../../../judge/rule/words.js";
import type { Explained } from "../units.js";
import type { Examined, Fault, Sensor } from "./fault.js";
import { daysWith, lateWeight, nightsLostTo, sharedBy, total } from "./fault.js";

/** A board that restarts less often than this in a month does so as they do. Our own choice. */
const LEAST_RESTARTS = 3;
/** From this share of a source's sensors on, all late alike, it is the clock that is late. Our own choice. */
const CLOCK_SHARE = 0.7;
const CLOCK_SENSORS = 3;

/** Faults of what several sensors have in common, and the signals whose own faults they explain. */
export interface WideFaults {
  readonly faults: readonly Fault[];
  /** Signals whose missed changes, false reports and delays are explained. */
  readonly explained: ReadonlySet<string>;
  /** Hours of silence, and how many silences, that are explained, by signal. */
  readonly silent: ReadonlyMap<string, { readonly hours: number; readonly count: number }>;
}

/** What the wide faults of each site explain of its signals. */
export function explainedBy(bySite: ReadonlyMap<string, WideFaults>): Explained {
  return (site, signal) => {
    const wide = bySite.get(site);
    return { faults: wide?.explained.has(signal) ?? false, silences: wide?.silent.get(signal)?.count ?? 0 };
  };
}

/** Exports that fall short, swapped channels, wrong clocks and boards that restart: each is one place. */
export function wideFaults(audit: Examined): WideFaults {
  const swapped = swappedFaults(audit);
  const clocks = clockFaultsOf(audit);
  const outages = outageFaults(audit);
  const sensorsAt = (subjects: ReadonlySet<string>): string[] => audit.sensors.filter(({ counts }) => subjects.has(counts.subject)).map(({ counts }) => counts.signal);
  const bySignal = new Map(audit.sensors.map((one) => [one.counts.signal, one]));
  const swappedSubjects = new Set(swapped.flatMap(({ sensors }) => sensors.flatMap((one) => bySignal.get(one)?.counts.subject ?? [])));
  return {
    faults: [...exportFaultsOf(audit), ...swapped, ...clocks, ...outages],
    explained: new Set([...sensorsAt(swappedSubjects), ...clocks.flatMap(({ sensors }) => sensors)]),
    silent: new Map(audit.upkeep.outages.flatMap(({ signals, hours, count }) => signals.map((signal) => [signal, { hours, count }] as const))),
  };
}

function exportFaultsOf({ counts, upkeep }: Examined): Fault[] {
  return upkeep.exports.map((one) => ({
    kind: "export" as const, site: counts.site.name, place: one.signals.length === 1 ? (one.signals[0] ?? one.source) : one.source, subject: null, gate: false,
    sensors: [...one.signals], mode: "export" as const, model: null, firmware: null, firstDay: one.firstDay, lastDay: one.lastDay,
    turns: 0, wrong: 0, silentHours: 0, wrongShareLow: null, nightsLost: one.unjudged,
    rules: [...new Set(upkeep.sensors.filter(({ signal }) => one.signals.includes(signal)).flatMap(({ rules }) => rules))].sort(),
    reason: `${one.text}${one.signals.length > 1 ? ` Nothing is said against its ${countText(one.signals.length, "sensor", "sensors")}.` : ""}`,
    weight: one.hours, size: { unit: "hours hidden", value: Math.round(one.hours) }, ask: one.ask,
  }));
}

function swappedFaults(audit: Examined): Fault[] {
  const { counts, upkeep, sensors } = audit;
  return upkeep.swapped.map(({ signals, own, crossed }) => {
    const both = sensors.filter((one) => (signals as readonly string[]).includes(one.counts.signal));
    return {
      kind: "place" as const, site: counts.site.name, place: signals.join(" and "), ...sharedBy(both), subject: null, sensors: [...signals], mode: "swapped" as const,
      ...daysWith(both.map(({ days }) => days.wrongHours), upkeep.days),
      turns: sum(both, ({ counts: { turns } }) => turns), wrong: sum(both, ({ counts: one }) => one.missedTurns + one.phantoms), silentHours: 0, wrongShareLow: null,
      nightsLost: nightsLostTo(signals, upkeep),
      reason: `Each tells of the place of the other: they agree with their own place ${percentText(Math.min(...own), "down")} of the time, with the other's ${percentText(Math.min(...crossed), "down")}.`,
      weight: sum(both, ({ counts: one }) => one.missedTurns + one.phantoms), size: { unit: "hours wrong", value: Math.round(sum(both, ({ days }) => total(days.wrongHours))) }, ask: null,
    };
  });
}

/** Clocks that the audit calls wrong, and sources of which nearly all sensors are late alike. */
function clockFaultsOf(audit: Examined): Fault[] {
  const { counts, upkeep, sensors } = audit;
  const told = upkeep.clocks.map(({ target, text, why, rules }) => {
    const sources = target.split(", ");
    return clockFault(target, sensors.filter(({ days }) => sources.includes(days.source)), { why, ask: text, rules: [...rules], size: 0 });
  });
  const named = new Set(upkeep.clocks.flatMap(({ target }) => target.split(", ")));
  const bySource = new Map<string, Sensor[]>();
  for (const one of sensors) if (!named.has(one.days.source)) bySource.set(one.days.source, [...(bySource.get(one.days.source) ?? []), one]);
  const alike = [...bySource].flatMap(([source, of]) => {
    const late = of.filter(({ days }) => (days.delay?.lowSeconds ?? 0) > upkeep.limits.lateSeconds);
    const seconds = late.map(({ days }) => days.delay?.medianSeconds ?? 0);
    const spread = (max(seconds) ?? 0) - Math.min(...seconds);
    const timed = of.filter(({ days }) => days.delay !== null).length;
    if (late.length < CLOCK_SENSORS || late.length < CLOCK_SHARE * timed || spread > 0.5 * (max(seconds) ?? 0)) return [];
    const minutes = Math.round((10 * (max(seconds) ?? 0)) / 60) / 10;
    return [clockFault(source, of, { why: `${late.length} of its ${timed} sensors are late alike, by ${minutes} min.`, ask: `Set the clock of ${source}, or write a “clock_correction” into the site file.`, rules: [], size: minutes })];
  });
  return [...told, ...alike];

  function clockFault(place: string, of: readonly Sensor[], said: { why: string; ask: string; rules: string[]; size: number }): Fault {
    const signals = of.map((one) => one.counts.signal);
    const shared = sharedBy(of);
    return {
      kind: "place", site: counts.site.name, place, ...shared, rules: [...new Set([...said.rules, ...shared.rules])].sort(), subject: null, sensors: signals, mode: "clock",
      firstDay: 0, lastDay: Math.max(0, upkeep.days - 1), turns: sum(of, (one) => one.counts.turns), wrong: sum(of, (one) => one.counts.missedTurns + one.counts.phantoms),
      silentHours: 0, wrongShareLow: null, nightsLost: nightsLostTo(signals, upkeep), reason: said.why,
      weight: sum(of, (one) => one.counts.missedTurns + one.counts.phantoms + lateWeight(one, upkeep)), size: { unit: "minutes off", value: said.size }, ask: said.ask,
    };
  }
}

function outageFaults(audit: Examined): Fault[] {
  const { counts, upkeep, sensors } = audit;
  return upkeep.outages.flatMap(({ cause, signals, count, hours, byDay }): Fault[] => {
    if (count < LEAST_RESTARTS && hours <= upkeep.limits.silentShare * counts.period.days * 24) return [];
    const of = sensors.filter((one) => signals.includes(one.counts.signal));
    return [
      {
        kind: "place", site: counts.site.name, place: cause, ...sharedBy(of), subject: null, sensors: [...signals], mode: "restarting", ...daysWith([byDay], upkeep.days),
        turns: 0, wrong: 0, silentHours: hours, wrongShareLow: null, nightsLost: nightsLostTo(signals, upkeep),
        reason: `${capitalised(numberText(signals.length))} sensors fell silent together ${timesText(count)}, for ${Math.round(hours)} h in all. It is one place, not ${numberText(signals.length)}.`,
        weight: hours / 24 + count, size: { unit: "restarts", value: count }, ask: null,
      },
    ];
  });
}
