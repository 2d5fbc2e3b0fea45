import type { Drill } from "./judge/drills/drill.js";
import type { HostileCase } from "./judge/drills/hostile.js";
import type { Episode, Phantom } from "./truth/episodes/find.js";
import type { DiaryEntry, LedgerRow } from "./intake/readings.js";
import { alarmCautions } from "./judge/verdict/alarm-caution.js";
import type { HouseholdCost } from "./judge/household-cost.js";
import type { RuleJudgement } from "./judge/judge.js";
import type { JudgedVariant } from "./judge/evidence/variants.js";
import type { Excerpt } from "./judge/judgement.js";
import { dependenceNotes, type Dependence } from "./truth/reference/dependence.js";
import { knownTimeNotes } from "./truth/reference/known-time.js";
import type { ReferenceModel } from "./truth/reference/models.js";
import type { BayScore } from "./compare/bays/bays.js";
import type { SignalScore } from "./compare/signals/signals.js";
import type { Site } from "./site/site.js";
import type { RuleTuning } from "./judge/settings/tune.js";
import type { Histories } from "./result/histories-schema.js";
import { nothingKnownNotes } from "./compare/signals/nothing-known.js";
import { FINDINGS_SCHEMA, findingsSchema, type Findings } from "./result/schema.js";
import { witnessFindings, type WitnessWork } from "./witness-findings.js";
import { DAY_MS, HOUR_MS } from "./ground/units.js";
import type { Interval } from "./ground/intervals.js";

/** A rule judged, drilled and, if it is the site's own, tuned. */
export interface ExaminedRule extends RuleJudgement {
  /** See `ruleDigest`. */
  readonly digest: string;
  readonly drills: readonly Drill[];
  readonly hostile: readonly HostileCase[];
  readonly tuning: RuleTuning | null;
}

/** Everything the steps before worked out. Instants are epoch milliseconds. */
export interface Worked {
  readonly site: Site;
  readonly period: Interval;
  readonly label: string;
  readonly notes: readonly string[];
  readonly madeAt: number;
  /** Program and version. */
  readonly madeBy: string;
  readonly ledger: readonly LedgerRow[];
  readonly diary: readonly DiaryEntry[];
  readonly dependences: readonly Dependence[];
  readonly references: readonly ReferenceModel[];
  readonly signals: readonly SignalScore[];
  readonly bays: readonly BayScore[];
  readonly episodes: readonly Episode[];
  readonly phantoms: readonly Phantom[];
  readonly rules: readonly ExaminedRule[];
  /** Further rules, replayed beside the site's own. */
  readonly tried: readonly ExaminedRule[];
  /** Every rule judged on this history so far, those of earlier runs among them. */
  readonly judged: readonly JudgedVariant[];
  readonly cost: readonly HouseholdCost[];
  readonly histories: Histories;
  readonly witnesses: WitnessWork;
}


/**
 * Turns what was worked out into the findings: instants become ISO text, maps become lists. The result is checked
 * against its own schema, so that nothing is ever written that a reader of the schema would not understand.
 */
export function assembleFindings(worked: Worked): Findings {
  const { site, period } = worked;
  const witnesses = witnessFindings(worked.witnesses, iso);
  const firmware = new Map(site.signals.map((signal) => [signal.id, signal.firmware]));
  const findings = {
    schema: FINDINGS_SCHEMA,
    redacted: false,
    made: { at: iso(worked.madeAt), by: worked.madeBy },
    site: {
      name: site.name,
      timeZone: site.timeZone,
      confidence: site.confidence,
      subjects: site.subjects.map(({ id, class: subjectClass, vehicle }) => ({ id, class: subjectClass, vehicle })),
      sharedCauses: sharedCauses(site),
      settings: { bridgeMs: site.bridgeMs, joinMs: site.joinMs, restartMs: site.restartMs },
    },
    period: { from: iso(period.from), to: iso(period.to), days: (period.to - period.from) / DAY_MS, label: worked.label },
    ledger: worked.ledger.map((row) => ({ ...row, first: isoOrNull(row.first), last: isoOrNull(row.last) })),
    diary: { ...diaryExtent(worked.diary, period), conflicts: witnesses.conflicts },
    dependences: worked.dependences,
    references: worked.references,
    signals: worked.signals.map((score) => ({ ...score, firmware: firmware.get(score.signal) ?? null })),
    bays: worked.bays,
    episodes: worked.episodes.map((episode) => ({ ...episode, anchor: iso(episode.anchor), from: iso(episode.from), to: iso(episode.to) })),
    phantoms: worked.phantoms.map((phantom) => ({ ...phantom, from: iso(phantom.from), to: iso(phantom.to) })),
    ...witnesses.keys,
    rules: worked.rules.map(ruleFinding),
    tried: worked.tried.map(ruleFinding),
    judged: worked.judged,
    cost: worked.cost,
    months: null,
    histories: worked.histories,
    notes: [...dependenceNotes(worked.dependences), ...knownTimeNotes(worked.references), ...worked.notes, ...ledgerNotes(worked.ledger), ...nothingKnownNotes(site, worked.histories, worked.signals), ...alarmCautions(site.rules)],
  };
  return findingsSchema.parse(findings);
}

function ruleFinding(rule: ExaminedRule): object {
  return {
    ...rule,
    cumulated: null,
    tuning: rule.tuning === null ? null : { ...rule.tuning, splitAt: iso(rule.tuning.splitAt) },
    firingList: rule.firingList.map((firing) => ({ ...firing, at: iso(firing.at), wantedAt: isoOrNull(firing.wantedAt) })),
    wantedList: rule.wantedList.map((wanted) => ({ ...wanted, at: iso(wanted.at) })),
    margin: { ...rule.margin, nearMisses: rule.margin.nearMisses.map((miss) => ({ ...miss, from: iso(miss.from), to: iso(miss.to), excerpt: miss.excerpt === null ? null : excerptFinding(miss.excerpt) })) },
    moments: rule.moments.map((moment) => ({ ...moment, ...excerptFinding(moment) })),
  };
}

function excerptFinding({ from, to, lanes }: Excerpt): object {
  return { from: iso(from), to: iso(to), lanes: lanes.map((lane) => ({ ...lane, steps: lane.steps.map(([at, state]) => [iso(at), state]) })) };
}

function sharedCauses(site: Site): { cause: string; signals: string[] }[] {
  const signalsOf = new Map<string, string[]>();
  for (const { id, shares } of site.signals) {
    for (const cause of shares) signalsOf.set(cause, [...(signalsOf.get(cause) ?? []), id]);
  }
  return [...signalsOf].map(([cause, signals]) => ({ cause, signals })).sort((a, b) => (a.cause < b.cause ? -1 : 1));
}

/** Hours are subject-hours inside the period: an hour written down for two subjects counts twice. */
function diaryExtent(diary: readonly DiaryEntry[], period: Interval): { entries: number; hours: number } {
  const inside = diary.map(({ from, to }) => Math.min(to, period.to) - Math.max(from, period.from)).filter((length) => length > 0);
  return { entries: inside.length, hours: inside.reduce((sum, length) => sum + length, 0) / HOUR_MS };
}

function ledgerNotes(ledger: readonly LedgerRow[]): string[] {
  const total = (count: (row: LedgerRow) => number): number => ledger.reduce((sum, row) => sum + count(row), 0);
  const [repeated, shifted, setAside, read] = [total((row) => row.repeatedHourRows), total((row) => row.shiftedRows), total((row) => row.setAside), total((row) => row.read)];
  const notes = [];
  if (repeated > 0) notes.push(`${repeated} rows carry a local time from the hour that a clock change repeats; they were told apart by their order in the file.`);
  if (shifted > 0) notes.push(`${shifted} rows carry a local time that a clock change skipped; they were moved forward by the length of the gap, as the site file asks.`);
  if (setAside > 0) notes.push(`${setAside.toLocaleString("en-GB")} of ${read.toLocaleString("en-GB")} rows were set aside and not used; set-aside.csv lists each with its reason.`);
  const unreadable = total((row) => row.unreadableCells);
  if (unreadable > 0) notes.push(`${unreadable === 1 ? "One cell" : `${unreadable.toLocaleString("en-GB")} cells`} of rows that were otherwise used could not be read; set-aside.csv lists each with its reason.`);
  for (const row of ledger.filter((one) => one.cutOff)) {
    notes.push(`${row.file} stops in the middle: its rows up to there were used, and what came after is missing. A signal of it that only reports changes keeps its last state from there on, which may be wrong.`);
  }
  return notes;
}

function iso(instant: number): string {
  return new Date(Math.round(instant)).toISOString();
}

function isoOrNull(instant: number | null): string | null {
  return instant === null ? null : iso(instant);
}
