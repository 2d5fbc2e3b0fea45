import { COUNTS_SCHEMA, type ClockCounts, type Counts, type RuleCounts, type SignalCounts } from "./counts.js";
import type { Findings } from "./findings.js";
import { DAYS_PER_YEAR, HOURS_PER_DAY } from "../ground/units.js";
import type { SignalScore } from "./signals.js";
import type { RuleFinding } from "./rules.js";
import type { Episode } from "./episodes.js";

/** The keys of the findings that counts are made from. */
export type Countable = Pick<Findings, "made" | "site" | "period" | "signals" | "bays" | "episodes" | "rules" | "judged" | "bands" | "clocks" | "disagreements" | "upkeep">;


/** A finished audit as counts. The same findings give the same counts, to the byte. */
export function countsOf(findings: Countable): Counts {
  const { site, period } = findings;
  const lags = lagsBySignal(findings.episodes);
  const pairs = findings.disagreements.flatMap((one) => one.pairs);
  const bands = new Map(findings.bands.map((band) => [band.signal, band]));
  return {
    schema: COUNTS_SCHEMA,
    made: findings.made,
    site: { name: site.name, timeZone: site.timeZone, confidence: site.confidence },
    period: { from: period.from, to: period.to, days: period.days, label: period.label },
    signals: findings.signals.map((score) => signalCounts(score, period.days, pairs, lags.get(score.signal), bands.get(score.signal))),
    bays: findings.bays.map(({ bay, vehicle, arrivals, departures }) => ({ bay, vehicle, arrivals, departures })),
    rules: findings.rules.map((rule) => ruleCounts(rule, period.days)),
    judged: findings.judged,
    ...(findings.upkeep === undefined ? {} : { upkeep: findings.upkeep }),
    clocks: findings.clocks.filter(({ subjects }) => subjects.length > 0).map(clockCounts),
  };
}

interface Lags {
  readonly arriving: number[];
  readonly leaving: number[];
}

function signalCounts(score: SignalScore, days: number, pairs: Findings["disagreements"][number]["pairs"], lags: Lags | undefined, band: Findings["bands"][number] | undefined): SignalCounts {
  const { missedShare, transitions, silences } = score;
  return {
    signal: score.signal,
    subject: score.subject,
    subjectClass: score.subjectClass,
    kind: score.kind,
    model: score.model,
    firmware: score.firmware,
    turns: transitions.judged,
    missedTurns: transitions.missed,
    visits: missedShare.count,
    missedVisits: missedShare.hits ?? 0,
    phantoms: transitions.phantom,
    judgedDays: score.judgedAgainst.jointHours.charged / HOURS_PER_DAY,
    disagreements: pairs.flatMap(({ signals, count, jointDays }) => {
      const other = signals.find((one) => one !== score.signal);
      return other === undefined || !signals.includes(score.signal) ? [] : [{ with: other, count, jointDays }];
    }),
    knownDays: score.knownShare * days,
    silences: silences.count,
    silentDays: silences.hours / HOURS_PER_DAY,
    restarts: score.restarts,
    flaps: score.flaps,
    lagsArriving: [...(lags?.arriving ?? [])].sort((a, b) => a - b),
    lagsLeaving: [...(lags?.leaving ?? [])].sort((a, b) => a - b),
    distances: band === undefined ? null : { unit: band.unit, present: band.present, occupied: band.looks.occupied, empty: band.looks.empty },
  };
}

function clockCounts({ first, second, correctedSeconds, readAs, offset, drift, pairs }: Findings["clocks"][number]): ClockCounts {
  const figure = ({ value, low, high, count }: typeof offset): ClockCounts["offset"] => ({ value, low, high, count });
  return { first, second, correctedSeconds, readAs, offset: figure(offset), drift: figure(drift), pairs };
}

/** A rule's counts of one period; `days` is its length. */
export function ruleCounts(rule: RuleFinding, days: number): RuleCounts {
  const { yearsSeen, blindShare, unclearShare, unclearDaysShare, covers } = rule.evidence;
  return {
    name: rule.name,
    act: rule.act,
    digest: rule.digest,
    verdict: rule.cumulated?.periodAlone.verdict ?? rule.verdict,
    yearsSeen,
    yearsBlind: (days / DAYS_PER_YEAR) * blindShare,
    firings: rule.firings,
    wanted: rule.wanted,
    yearsUnclear: (days / DAYS_PER_YEAR) * unclearShare,
    yearsUnclearDays: (days / DAYS_PER_YEAR) * unclearDaysShare,
    covers,
    design: rule.design?.history ?? null,
  };
}

function lagsBySignal(episodes: readonly Episode[]): Map<string, Lags> {
  const lags = new Map<string, Lags>();
  for (const { kind, participants } of episodes) {
    for (const { signal, lagSeconds } of participants) {
      if (lagSeconds === null) continue;
      const of = lags.get(signal) ?? { arriving: [], leaving: [] };
      lags.set(signal, of);
      (kind === "arrival" ? of.arriving : of.leaving).push(lagSeconds);
    }
  }
  return lags;
}
