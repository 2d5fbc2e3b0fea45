import { rollups, sum } from "d3-array";
import { intersection, type Interval } from "../../ground/intervals.js";
import { HOUR_MS, SECOND_MS } from "../../ground/units.js";
import type { Findings } from "../../result/findings.js";
import type { Upkeep } from "../../result/upkeep.js";
import { sensorLimitsOf } from "../../site/build-limits.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { walkTogether } from "../../timeline/walk-together.js";
import type { ClockFault } from "../../truth/clocks/faults.js";
import type { Hidden } from "../../truth/exports/hide.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { daysOf, type Days } from "./days.js";
import { nightsOf } from "./nights.js";
import { sensorDays, type SensorDaysInput } from "./sensor-days.js";
import { swappedSensors } from "./swapped.js";

/** What the upkeep of a site is made from. */
export interface UpkeepInput extends Omit<SensorDaysInput, "days"> {
  readonly clockFaults: readonly ClockFault[];
  readonly findings: Pick<Findings, "phantoms" | "rules" | "signals" | "disagreements" | "changes" | "exports" | "sensors">;
}

/** Everything the audit knows of the sensors' faults, by day: what a comparison of sites and months is made from. */
export function upkeepOf(input: UpkeepInput): Upkeep {
  const { site, accounts, book, hidden, period, findings, clockFaults } = input;
  const days = daysOf(period, site.timeZone);
  const { missedShare, falseShare, silentShare, lateMs } = site.sensorLimits ?? sensorLimitsOf();
  const nights = findings.rules.map((rule) => nightsOf(rule, days));
  return {
    days: days.count,
    limits: { missedShare, falseShare, silentShare, lateSeconds: lateMs / SECOND_MS },
    sensors: site.signals.flatMap((signal) => {
      const account = accounts.get(signal.id);
      return account === undefined ? [] : [sensorDays(signal, account, { ...input, days })];
    }),
    pairs: findings.disagreements.flatMap(({ pairs }) => pairs.filter(({ count }) => count > 0).map(({ signals }) => ({ signals, differedHours: differed(signals, input, days) }))),
    outages: outagesOf(accounts, hidden, days),
    swapped: swappedSensors(site, accounts, book),
    clocks: clockFaults.map(({ target, text, why, rules }) => ({ target, text, why, rules: [...rules] })),
    changes: findings.changes.flatMap(({ signal, what, unit, changed, since, before, after }) =>
      changed && since !== null && before !== null && after !== null ? [{ signal, what, unit, day: days.dayOf(since), before, after }] : [],
    ),
    exports: (findings.exports ?? []).map(({ kind, source, file, signals, from, to, text, ask }) => ({
      kind, source, file, signals,
      firstDay: days.dayOf(from), lastDay: days.dayOf(Math.max(from, to - 1)), hours: (to - from) / HOUR_MS,
      unjudged: unjudgedDays({ from, to }, signals, findings.rules, days),
      text, ask,
    })),
    nights,
  };
}

/** Days on which a rule that reads a hidden signal cannot be judged. */
function unjudgedDays({ from, to }: Interval, signals: readonly string[], rules: Findings["rules"], days: Days): number {
  const reading = rules.filter((rule) => rule.signals.some((one) => signals.includes(one)));
  return new Set(reading.flatMap((rule) => (rule.unjudged ?? []).filter((at) => at >= from && at < to)).map(days.dayOf)).size;
}

function differed([one, other]: readonly [string, string], { accounts }: UpkeepInput, days: Days): number[] {
  const [first, second] = [accounts.get(one)?.account, accounts.get(other)?.account];
  const found: Interval[] = [];
  if (first !== undefined && second !== undefined) {
    walkTogether([first, second], (from, to, [a, b]) => {
      if ((a === ON && b === OFF) || (a === OFF && b === ON)) found.push({ from, to });
    });
  }
  return days.hours(found);
}

/** Each cause's outages: those of its signals that begin together are one. What an export hides is no outage. */
function outagesOf(accounts: ReadonlyMap<string, SignalAccount>, hidden: Hidden, days: Days): Upkeep["outages"][number][] {
  const all = [...accounts.values()].flatMap(({ signal, restarts }) => restarts.filter(({ from, to }) => intersection([{ from, to }], hidden.get(signal) ?? []).length === 0).map((one) => ({ ...one, signal })));
  return rollups(
    all,
    (of) => {
      const starts = new Map<number, number>();
      for (const { from, to } of of) starts.set(from, Math.max(starts.get(from) ?? 0, to));
      const stretches = [...starts].map(([from, to]) => ({ from, to })).sort((a, b) => a.from - b.from);
      return {
        signals: [...new Set(of.map(({ signal }) => signal))].sort(),
        count: stretches.length,
        hours: Math.round(sum(stretches, ({ from, to }) => to - from) / HOUR_MS * 100) / 100,
        byDay: days.counts(stretches.map(({ from }) => from)),
      };
    },
    ({ cause }) => cause,
  ).map(([cause, rest]) => ({ cause, ...rest }));
}
