/**
 * The whole path, in order. Every step is a pure function of the step before; only steps 1 and 2 read.
 *
 *   1 site file ─┐
 *     exports ───┴─ 2 intake ─ 3 signals ─ 4 reference ─ 5 episodes ─┬─ 6 scoring ───┐
 *                                  │           ├──── 7 rules ────────┘               ├─ 9 findings ─ 10 months
 *                                  └───────────┴──── 8 witnesses compared ───────────┘              11 what to do
 */
import { basename } from "node:path";
import { decide } from "./decide/decide.js";
import { drillRule } from "./judge/drills/drill.js";
import { makeFaultedHistories } from "./judge/drills/faults.js";
import { hostileCases } from "./judge/drills/hostile.js";
import { adviseBands } from "./truth/bands/advice.js";
import { clockFaults } from "./truth/clocks/faults.js";
import { whatToAsk } from "./judge/questions/ask.js";
import type { Counts } from "./result/counts.js";
import { historiesOf } from "./judge/replay/histories.js";
import { type Findings, FINDINGS_SCHEMA, type Undecided } from "./result/findings.js";
import type { IntakeWatch } from "./intake/readings.js";
import type { AuditStep } from "./ground/audit-steps.js";
import { judgedOn } from "./compare/months/select.js";
import { overMonths, withMonths } from "./compare/months/with-months.js";
import { askedPeriod, checkPeriod, type AskedPeriod } from "./intake/period.js";
import { asIfHeard } from "./truth/exports/hide.js";
import { makeReferenceBook } from "./truth/reference/book.js";
import { dependenceNotes } from "./truth/reference/dependence.js";
import { knownTimeNotes, referenceModels } from "./truth/reference/models.js";
import { makeProposer } from "./judge/propose/propose.js";
import { householdCosts } from "./judge/household-cost.js";
import { judgeRule } from "./judge/judge.js";
import type { RuleOverHistory } from "./judge/replay/replay.js";
import { judgedSoFar, variantsTried } from "./judge/evidence/variants.js";
import { scoreBays } from "./compare/bays/bays.js";
import { detectChanges } from "./compare/signals/change-detection.js";
import { stirsOf } from "./compare/signals/stirs.js";
import { diaryConflicts } from "./compare/signals/diary-conflicts.js";
import { sensorsOf } from "./compare/sensors/sensors.js";
import { typicalDay } from "./compare/sensors/typical-day.js";
import { bandMender } from "./compare/mend/band-mender.js";
import { upkeepOf } from "./compare/upkeep/upkeep.js";
import { mendFirst } from "./compare/mend/mend-first.js";
import { loadSite } from "./site/load.js";
import { ruleDigest } from "./site/rule-digest.js";
import type { RuleSpec, Site } from "./site/site.js";
import { tuneRule } from "./judge/settings/tune.js";
import { knownOf } from "./known.js";
import { lookUp } from "./ground/look-up.js";
import { version } from "./ground/version.js";
import { ledgerNotes } from "./intake/ledger-notes.js";
import { diaryExtent } from "./intake/diary-extent.js";
import { sharedCauses } from "./site/shared-causes.js";
import { nothingKnownNotes } from "./compare/signals/nothing-known.js";
import { alarmCautions } from "./judge/verdict/alarm-caution.js";
import { DAY_MS } from "./ground/units.js";
import type { RuleFinding } from "./result/rules.js";
import type { ReferenceBook } from "./truth/reference/reference.js";

/** What an audit may be told besides the site file. Everything is optional. */
export interface AuditOptions {
  /** A local month such as `"2026-10"`, or an `AskedPeriod`. Left out: everything the exports hold. */
  readonly period?: string | AskedPeriod;
  /** Epoch milliseconds written into the findings as the time of making; give it to repeat a run to the byte. Left out: now. */
  readonly madeAt?: number;
  /** Who is told of rows set aside and of progress. Left out: nobody. */
  readonly watch?: Partial<IntakeWatch>;
  /** Told as each step begins, which ends the one before; some steps come several times. References are worked out where they are first needed. */
  readonly onStep?: (step: AuditStep) => void;
  /** Earlier results of the same site, as counts: compared, and their evidence added. Left out: this period stands alone. */
  readonly earlier?: readonly Counts[];
  /** Further rules of the site, from `loadRules`: replayed beside its own for comparison. */
  readonly tried?: readonly RuleSpec[];
  /** Finished audits of the same site, as counts: what they tried on the same history lessens what its best variant proves. */
  readonly judgedBefore?: readonly Counts[];
}

/** Loads the site file and audits it. Throws `InputError` with every problem found when the input is wrong. */
export async function audit(siteFile: string, options: AuditOptions = {}): Promise<Findings> {
  // 1. The site file: what there is and what is accepted.
  return auditSite(await loadSite(siteFile), options);
}

/** The same for a site that is loaded already. */
export async function auditSite(site: Site, options: AuditOptions = {}): Promise<Findings> {
  const asked = askedPeriod(options.period);
  checkPeriod(site, asked);

  const begin = options.onStep ?? (() => undefined);
  const madeAt = options.madeAt ?? Date.now();

  // 2. Intake, 3. signals, 4. reference, 5. episodes, 6. scoring: what is known before a rule is judged.
  const known = await knownOf(site, asked, { watch: options.watch, begin, madeAt });
  const { readings, ledger, diary: written, period, label, notes, told, heardNotes, dependences, detected, book, lagBook, episodes, phantoms, signals, disagreements, clocks, exports, hidden } = known;
  const { accounts } = told;
  const { entries: diary } = written;
  const references = referenceModels(site, accounts, diary, period, detected);
  const bays = scoreBays(site, book, signals, disagreements, episodes, period);

  // 7. Rules: replayed, judged, given a verdict; put through drills and hostile scenes; and what they would cost in pairs.
  begin("judging");
  const further = options.tried ?? [];
  const digests = new Map([...site.rules, ...further].map((rule) => [rule, ruleDigest(site, rule)]));
  const before = judgedOn(options.judgedBefore ?? [], site.name, period);
  const variants = variantsTried(site.rules, further, digests, before);
  const { history, design, prepare } = known;
  const faulted = makeFaultedHistories();
  const variantsOf = ({ spec: { act } }: RuleOverHistory): number => variants.get(act) ?? 1;
  const examine = (rule: RuleOverHistory, tuning: RuleFinding["tuning"]): RuleFinding => {
    begin("judging");
    const judgement = judgeRule(rule, known.contextOf(rule, variantsOf(rule)));
    begin("drills");
    return { ...judgement, digest: lookUp(digests, rule.spec), cumulated: null, drills: drillRule(rule, faulted), hostile: hostileCases(rule), tuning };
  };
  const tuned = (rule: RuleOverHistory): RuleFinding["tuning"] => {
    begin("settings");
    return tuneRule(rule, told.withBand);
  };
  const prepared = site.rules.map(prepare);
  const examined = prepared.map((rule) => ({ rule, finding: examine(rule, tuned(rule)), context: known.contextOf(rule, variantsOf(rule)) }));
  const rules = examined.map(({ finding }) => finding);
  const tried = further.map((spec) => examine(prepare(spec), null));
  begin("judging");
  const cost = householdCosts(site, rules, book, period);
  begin("proposals");
  const propose = makeProposer(site, history, design);
  const proposals = examined.filter(({ finding }) => finding.verdict !== "clear to enable").map(({ rule }) => propose(rule));
  const othersTried = new Map(proposals.map(({ rule, tried: count }) => [rule, count]));
  const settingsOf = ({ name, tuning }: RuleFinding): number => (tuning?.tried ?? 0) + (othersTried.get(name) ?? 0);
  const judged = judgedSoFar([...rules, ...tried].map((one) => ({ act: one.act, digest: one.digest, settings: settingsOf(one) })), before);

  // 8. The witnesses themselves: where they contradict the diary, their clocks and bands, what got worse, and what memory could settle.
  begin("comparing");
  const conflicts = diaryConflicts(site, accounts, diary, period);
  const bands = adviseBands(site, readings, book, period);
  const changes = detectChanges(site, accounts, readings, book, period, lagBook);
  const audited = { ...period, days: (period.to - period.from) / DAY_MS, label };
  const bare = (): ReferenceBook => (diary.length === 0 ? book : makeReferenceBook(site, accounts, [], period, detected));
  const over = options.earlier === undefined ? (rule: RuleFinding): RuleFinding => rule : overMonths(audited, site, options.earlier);
  begin("questions");
  const questions = whatToAsk(examined, { site, period, accounts, diary: written, bare, over });
  begin("comparing");
  const said = historiesOf(site, history, prepared);

  // 9. Findings: the one object everything written is made from.
  const siteSaid: Findings["site"] = {
    name: site.name,
    timeZone: site.timeZone,
    confidence: site.confidence,
    subjects: site.subjects.map(({ id, class: subjectClass, vehicle }) => ({ id, class: subjectClass, vehicle })),
    sharedCauses: sharedCauses(site),
    settings: { bridgeMs: site.bridgeMs, joinMs: site.joinMs, restartMs: site.restartMs },
  };
  const bandWouldMend = bandMender(site, bands, told);
  const wrongClocks = clockFaults(site, clocks, period);
  const mend = mendFirst({
    site: siteSaid, period: audited, signals: asIfHeard(signals, hidden, period), disagreements, bands, changes, phantoms, rules,
    clockFaults: wrongClocks,
    restarts: new Map([...accounts].map(([id, one]) => [id, one.restarts])),
    bandWouldMend,
  });
  const sensors = sensorsOf({ site, accounts, readings, book, findings: { period: audited, signals, exports, mend, phantoms, bands, changes, disagreements }, bandWouldMend });
  const stirs = stirsOf(site, accounts, book);
  const findings: Undecided = {
    schema: FINDINGS_SCHEMA,
    redacted: false,
    made: { at: madeAt, by: `keyworthy ${version}` },
    site: siteSaid,
    period: audited,
    ledger,
    diary: { ...diaryExtent(diary, period), conflicts },
    dependences,
    references,
    signals,
    bays,
    episodes,
    phantoms,
    disagreements,
    clocks,
    bands,
    changes,
    questions,
    mend,
    sensors,
    typicalDay: typicalDay(site, book, period, sensors),
    ...(stirs.length === 0 ? {} : { stirs }),
    rules,
    tried,
    proposals,
    judged,
    cost,
    months: null,
    histories: said,
    exports,
    upkeep: upkeepOf({ site, accounts, book, hidden, period, clockFaults: wrongClocks, findings: { phantoms, rules, signals, disagreements, changes, exports, sensors } }),
    notes: [
      ...exports.map(({ text, ask }) => `${text} ${ask}`),
      ...dependenceNotes(dependences), ...knownTimeNotes(references), ...notes, ...heardNotes, ...ledgerNotes(ledger),
      ...nothingKnownNotes(site, said, signals), ...alarmCautions(site.rules),
    ],
  };

  // 10. Months: what changed since earlier results, and each rule's evidence over all of them.
  begin("months");
  const whole = options.earlier === undefined ? findings : withMonths(findings, site, options.earlier);

  // 11. What to do, and why.
  return { ...whole, decision: decide(whole, { siteFile: basename(site.file), diary }) };
}
