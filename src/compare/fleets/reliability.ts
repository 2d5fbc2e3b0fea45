import { mean, rollups, sum } from "d3-array";
import type { Fleet } from "../../result/fleet.js";
import { rateEstimate } from "../../statistics/rate.js";
import { poissonTail } from "../../statistics/tails.js";
import { DAYS_PER_MONTH } from "../../ground/units.js";
import { type Examined, type Fault, type Sensor, total } from "./faults/fault.js";

/** Spares are to suffice nine times in ten. Our own choice. */
const SUFFICES = 0.9;

/** One sensor in all audits at hand, oldest first. */
interface Life {
  readonly model: string;
  readonly kind: string;
  readonly firmware: string | null;
  readonly days: number;
  readonly heardDays: number;
  /** Whether each audit lists it by itself. */
  readonly listed: readonly boolean[];
}

/**
 * Time between failures and to mend, availability and spares, by model and firmware, adjusted for how long each was seen:
 * a failure is a sensor's coming onto the list by itself. With its exact interval (Garwood 1936). Spares: the fewest
 * that suffice for the next month with nine chances in ten, the failures taken as Poisson.
 */
export function reliabilityOf(rounds: readonly (readonly Examined[])[], faults: readonly (readonly Fault[])[], confidence: number): Fleet["reliability"][number][] {
  const lives = livesOf(rounds, faults);
  return rollups(
    lives,
    (own) => {
      const days = sum(own, (one) => one.days);
      const failures = sum(own, ({ listed }) => listed.filter((is, i) => is && listed[i - 1] !== true).length);
      const rate = rateEstimate(failures, days, confidence, "per day");
      const mended = own.flatMap(({ listed }) => spells(listed));
      const between = (perDay: number | null): number | null => (perDay === null || perDay === 0 ? null : Math.round(1 / perDay));
      const monthly = days === 0 ? 0 : (failures / days) * DAYS_PER_MONTH * own.length;
      return {
        sensors: own.length,
        sensorDays: Math.round(days),
        failures,
        daysBetween: { value: between(rate.value), low: between(rate.high), high: failures === 0 ? null : between(rate.low) },
        monthsToMend: mean(mended) ?? null,
        availability: days === 0 ? null : Math.min(1, sum(own, (one) => one.heardDays) / days),
        spares: sparesFor(monthly),
      };
    },
    ({ kind, model, firmware }) => JSON.stringify([kind, model, firmware]),
  )
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, rest]) => {
      const [kind, model, firmware] = JSON.parse(key) as [string, string, string | null];
      return { kind, model, firmware, ...rest };
    });
}

function livesOf(rounds: readonly (readonly Examined[])[], faults: readonly (readonly Fault[])[]): Life[] {
  const seen = new Map<string, { sensor: Sensor; days: number; heardDays: number; listed: boolean[] }>();
  rounds.toReversed().forEach((round, i) => {
    const own = (faults[rounds.length - 1 - i] ?? []).filter(({ kind, sensors }) => kind === "place" && sensors.length === 1);
    const listed = new Set(own.map(({ site, sensors }) => JSON.stringify([site, sensors[0]])));
    for (const { counts, sensors } of round) {
      for (const sensor of sensors) {
        if (sensor.counts.model === null) continue;
        const key = JSON.stringify([counts.site.name, sensor.counts.signal, sensor.counts.model, sensor.counts.firmware]);
        const life = seen.get(key) ?? { sensor, days: 0, heardDays: 0, listed: [] };
        seen.set(key, life);
        const days = Math.max(0, counts.period.days - total(sensor.days.hiddenHours) / 24);
        life.days += days;
        life.heardDays += Math.max(0, Math.min(days, sensor.counts.knownDays) - total(sensor.days.wrongHours) / 24);
        life.listed.push(listed.has(JSON.stringify([counts.site.name, sensor.counts.signal])));
      }
    }
  });
  return [...seen.values()].map(({ sensor: { counts }, ...life }) => ({ ...life, model: counts.model ?? "", kind: counts.kind, firmware: counts.firmware }));
}

/** How many audits each spell on the list lasted that ended. */
function spells(listed: readonly boolean[]): number[] {
  const ended: number[] = [];
  let run = 0;
  for (const is of listed) {
    if (is) run += 1;
    else if (run > 0) {
      ended.push(run);
      run = 0;
    }
  }
  return ended;
}

function sparesFor(monthly: number): number {
  let spares = 0;
  while (monthly > 0 && poissonTail(spares + 1, monthly) > 1 - SUFFICES) spares += 1;
  return spares;
}
