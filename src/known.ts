/** The first part of the path: what is known before a rule is judged. */
import { measuredFaults } from "./compare/signals/measured-faults.js";
import { scoreSignals } from "./compare/signals/signals.js";
import { findDisagreements } from "./compare/signals/disagreements.js";
import { usualLags } from "./compare/signals/usual-lags.js";
import type { AuditStep } from "./ground/audit-steps.js";
import { readDiary } from "./intake/diary.js";
import { askedMonth, settlePeriod, type AskedPeriod } from "./intake/period.js";
import { readExports } from "./intake/read-exports.js";
import type { IntakeWatch } from "./intake/readings.js";
import { readingText } from "./judge/culprit/reading-text.js";
import { overHistory, type RuleOverHistory } from "./judge/replay/replay.js";
import { prepareRule } from "./judge/rule/prepare.js";
import { causeGroups } from "./site/cause-groups.js";
import type { RuleSpec, Site } from "./site/site.js";
import { exportFaults } from "./truth/exports/faults.js";
import { hiddenBy, retellableHidden } from "./truth/exports/hide.js";
import { countUnknownChannels } from "./truth/exports/unknown-channels.js";
import { blockingClocksOf } from "./truth/clocks/blocking.js";
import { clockOffsets } from "./truth/clocks/offsets.js";
import { findEpisodes } from "./truth/episodes/find.js";
import { makeReferenceBook } from "./truth/reference/book.js";
import { detectedPairs, findDependences } from "./truth/reference/dependence.js";
import { withoutDependents } from "./truth/reference/without-dependents.js";
import { hearSignals } from "./truth/signals/hear.js";

/** What reading is told with, and when. */
export interface KnowingOptions {
  readonly watch?: Partial<IntakeWatch> | undefined;
  /** Is told of each step as it begins. */
  readonly begin?: (step: AuditStep) => void;
  /** The time of making: a month that is not over by then lacks no export. Epoch milliseconds; now, if not given. */
  readonly madeAt?: number;
}

/** Steps 2 to 4: reads the exports of a site and works out what most likely happened. */
export async function toldBy(site: Site, asked: AskedPeriod, { watch = {}, begin = () => undefined, madeAt = Date.now() }: KnowingOptions = {}) {
  // 2. Intake: bytes to readings, every row in one ledger line.
  begin("reading");
  const counting = countUnknownChannels({ onSetAside: () => undefined, onRead: () => { begin("bringing together"); }, ...watch });
  const { readings: all, ledger } = await readExports(site, counting.watch);
  const diary = await readDiary(site);
  const { period, label, notes, readings } = settlePeriod(site, all, asked);

  // 3. Signals: readings to three-valued timelines.
  begin("timelines");
  const { told: heard, notes: heardNotes } = hearSignals(site, readings, period);
  // What an export lacks is hidden from everything, and no sensor's silence.
  const exports = exportFaults({ site, readings, ledger, unknown: counting.unknown, quiets: heard.quiets, period, month: askedMonth(site, asked, madeAt) });
  const hidden = hiddenBy(exports);
  const told = retellableHidden(heard, hidden);
  const { accounts } = told;

  // 4. Reference: what most likely happened, and who vouches for it. Signals found to depend on each other count as one.
  begin("reference");
  const dependences = findDependences(site, accounts, diary.entries, period, readings);
  const detected = detectedPairs(dependences);
  const book = makeReferenceBook(site, accounts, diary.entries, period, detected);
  const lagBook = withoutDependents(book, detected);
  const history = { period, accounts, book, groups: causeGroups(site.signals, detected), hidden };
  const prepare = (spec: RuleSpec): RuleOverHistory => overHistory(prepareRule(site, spec), history);
  return { readings, ledger, diary, period, label, notes, told, heardNotes, dependences, detected, book, lagBook, history, prepare, exports, hidden };
}

/** Steps 2 to 6: the same, how well each sensor told it, and what every rule is judged with. */
export async function knownOf(site: Site, asked: AskedPeriod, options: KnowingOptions = {}) {
  const { begin = () => undefined } = options;
  const before = await toldBy(site, asked, options);
  const { readings, diary, period, told, detected, book, lagBook } = before;
  const { accounts } = told;

  // 5. Episodes: arrivals and departures.
  begin("comparing");
  const { episodes, phantoms } = findEpisodes(site, accounts, book, period, lagBook);

  // 6. Scoring: signals against the reference, and where they differ and nobody can tell which is wrong.
  const signals = scoreSignals(site, accounts, book, period, lagBook);
  const disagreements = findDisagreements(site, accounts, book);
  const clocks = clockOffsets(site, accounts, period);

  const faults = measuredFaults(signals, phantoms, disagreements, site.confidence);
  const design = { lags: usualLags(signals), seen: detected, tests: diary.tests };
  const falseStarts = new Map(site.signals.map(({ id }) => [id, phantoms.flatMap((one) => (one.signal === id ? [one.from] : []))]));
  const read = readingText(site, readings);
  /** `variants` of the rule were tried on this history, itself among them. */
  const contextOf = ({ spec }: RuleOverHistory, variants: number) => ({ falseStarts, variants, faults, design, read, clocks: blockingClocksOf(site, spec, clocks, period).map((one) => one.text) });
  return { ...before, episodes, phantoms, signals, disagreements, clocks, design, contextOf };
}
