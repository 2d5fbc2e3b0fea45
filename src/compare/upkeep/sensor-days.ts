import { difference, type Interval, union } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { DAY_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { Findings } from "../../result/findings.js";
import type { SensorDays } from "../../result/upkeep.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { stateAt } from "../../timeline/state-at.js";
import { stretches } from "../../timeline/stretches.js";
import { type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { judgedTurns, type JudgedTurns } from "../../truth/episodes/charging.js";
import type { Hidden } from "../../truth/exports/hide.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import { flapTimes, type SignalAccount } from "../../truth/signals/account.js";
import { whenOf } from "../sensors/when.js";
import type { Days } from "./days.js";

/** A shorter silence is a reading that came late. Our own choice. */
const LEAST_SILENT_MS = 2 * MINUTE_MS;

/** What a sensor's days are made from. */
export interface SensorDaysInput {
  readonly site: Site;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly book: ReferenceBook;
  readonly hidden: Hidden;
  readonly days: Days;
  readonly period: Interval;
  readonly findings: Pick<Findings, "phantoms" | "rules" | "signals" | "sensors">;
}

/** A change of what most likely happened that a sensor could be charged with missing. */
interface JudgedTurn {
  readonly at: number;
  readonly missed: boolean;
}

/** What one sensor did on each day. */
export function sensorDays(signal: SignalSpec, account: SignalAccount, input: SensorDaysInput): SensorDays {
  const { site, book, hidden, days, period, findings } = input;
  const judged = findings.sensors?.find((one) => one.signal === signal.id);
  const without = book(signal.subject, [signal.id]);
  const turns = judgedTurns(account, without, site).flatMap(chargeable).sort((a, b) => a.at - b.at);
  const own = hidden.get(signal.id) ?? [];
  // What only reports changes may have nothing to say: a quiet that it shares with others is no silence of its own.
  const excused = signal.expectMs === null && account.readingCount > 0 ? union([...own, ...account.silences]) : own;
  const silent = difference(stretches(account.account, UNKNOWN).filter(({ from, to }) => to - from >= LEAST_SILENT_MS), excused);
  const hours = { diary: 0, several: 0, one: 0, none: 0 };
  for (const { basis, from, to } of without.segments) hours[basis] += Math.max(0, Math.min(to, period.to) - Math.max(from, period.from)) / DAY_MS;
  return {
    signal: signal.id,
    source: signal.source,
    shares: [...signal.shares],
    turns: days.counts(turns.map(({ at }) => at)),
    missed: days.counts(turns.filter(({ missed }) => missed).map(({ at }) => at)),
    falseReports: days.counts(findings.phantoms.filter((one) => one.signal === signal.id).map(({ from }) => from)),
    flickers: days.counts(account.stirring === undefined ? flapTimes(account.account) : []),
    wrongHours: days.hours(whenOf(account, book(signal.subject, []).timeline, without).differed),
    silentHours: days.hours(silent),
    hiddenHours: days.hours(own),
    missedRun: longestRun(turns, days),
    delay: delayOf(account, without.timeline, site.confidence),
    rules: findings.rules.filter(({ signals }) => signals.includes(signal.id)).map(({ name }) => name),
    ...(judged === undefined ? {} : { fault: judged.fault }),
    basis: { diary: hours.diary, several: hours.several, one: hours.one },
  };
}

/** A sensor that followed fewer of the changes than this is not late: it misses them. Our own choice. */
const LEAST_FOLLOWED = 0.6;
/** Fewer changes tell of no usual delay. Our own choice. */
const FEWEST_DELAYS = 8;

/**
 * How long the sensor took to say what was so, over all changes of the reference: beyond `join` too, where it counts as
 * having missed them. Null where it did not follow most of them before the next change.
 */
function delayOf({ account }: SignalAccount, reference: Timeline, confidence: number): SensorDays["delay"] {
  const delays: number[] = [];
  let asked = 0;
  reference.times.forEach((at, i) => {
    const [state, before] = [reference.states[i], reference.states[i - 1]];
    if (i === 0 || state === UNKNOWN || before === UNKNOWN) return;
    const until = reference.times[i + 1] ?? reference.end;
    if (stateAt(account, at) === UNKNOWN) return;
    asked += 1;
    const followed = followedAt(account, state, at, until);
    if (followed !== null) delays.push(Math.max(0, followed - at) / SECOND_MS);
  });
  if (delays.length < FEWEST_DELAYS || delays.length < LEAST_FOLLOWED * asked) return null;
  const { value, low } = quantileEstimate(delays, 0.5, confidence, "seconds");
  return { medianSeconds: value ?? 0, lowSeconds: low ?? 0, count: delays.length };
}

/** The instant from which on the account says `state` within `[at, until)`; null if it never does. */
function followedAt({ times, states, end }: Timeline, state: number | undefined, at: number, until: number): number | null {
  for (let k = Math.max(0, firstAtOrAfter(times, at + 1) - 1); k < times.length && (times[k] ?? end) < until; k += 1) {
    if (states[k] === state) return times[k] ?? null;
  }
  return null;
}

function chargeable({ comparison, charged }: JudgedTurns): JudgedTurn[] {
  return comparison.reference.flatMap(({ at }, i) => {
    const isMatched = comparison.matches.ofReference[i] !== -1;
    return charged[i] === true && (isMatched || comparison.watched[i] === true) ? [{ at, missed: !isMatched }] : [];
  });
}

function longestRun(turns: readonly JudgedTurn[], days: Days): SensorDays["missedRun"] {
  let [longest, run]: JudgedTurn[][] = [[], []];
  for (const turn of turns) {
    run = turn.missed ? [...(run ?? []), turn] : [];
    if (run.length > (longest ?? []).length) longest = run;
  }
  const [first, last] = [longest?.[0], longest?.at(-1)];
  return { count: longest?.length ?? 0, firstDay: days.dayOf(first?.at ?? 0), lastDay: days.dayOf(last?.at ?? 0) };
}
