import { difference, during, intersection, union, type Interval } from "../../ground/intervals.js";
import { TAKEN_BACK } from "../../intake/diary-corrections.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { patched } from "../../timeline/patched.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline } from "../../timeline/timeline.js";
import { stateWords } from "../../site/state-words.js";
import type { Site } from "../../site/site.js";
import type { Answer } from "../../result/questions.js";
import type { FiringOutcome, RuleFinding } from "../../result/rules.js";
import type { Reference, ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import { ruleFigures, tallyOf, type TallyContext } from "../evidence/figures.js";
import { worseningTexts } from "../evidence/occasions.js";
import { countedStretches, servingOf } from "../replay/acting.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import { judgeFirings } from "../replay/own-words.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { wantedOutcomes } from "../replay/wanted-outcomes.js";
import { verdictOf } from "../verdict/verdict.js";
import { confirmedOf, withConfirmed } from "../design/road.js";
import { lookUp } from "../../ground/look-up.js";
import type { Expression } from "../../site/expression.js";
import { atomsOf, longestWindowMs } from "../rule/condition.js";
import { evaluateParts, timelineOfPart, type Resolved } from "../rule/evaluate.js";
import { confirmedTimeline, type Backing, type Facts } from "../rule/facts.js";
import { withBook } from "./moments.js";

/** A rule with what was found of it in this period alone, and what its figures were worked out with. */
export interface JudgedRule {
  readonly rule: RuleOverHistory;
  readonly finding: RuleFinding;
  readonly context: TallyContext;
}

/**
 * The finding if the diary had these rows too: outcomes, counts, bounds and verdict are worked out anew, as the audit
 * would. What the other sensors' error rates would learn from the rows is left out, and so is everything about lying
 * sensors, and of the road of design all but what is confirmed: that stands as it is. `bare` is the book without any diary: it tells what remains where
 * the diary is taken back. `outlook` as in {@link ruleFigures}.
 */
export function supposing({ rule, finding, context }: JudgedRule, rows: readonly Row[], bare: ReferenceBook, outlook = true): RuleFinding {
  const supposed = withBook(rule, bookWith(rule.history.book, rows, bare, rule.site));
  const { firings, ownWords } = judgeFirings(supposed);
  const wanted = wantedOutcomes(supposed);
  const figures = ruleFigures(tallyOf(supposed, firings, wanted, context), [], rule.standard, outlook);
  const { verdict, reasons } = verdictOf({
    ...rule.standard,
    figures,
    singlePoints: finding.singlePoints,
    inPractice: finding.cutSets.inPractice,
    cutOff: supposed.wanted.cutOff,
    // What was measured of the clocks stays as it is, whatever memory says.
    clocks: finding.reasons.filter((one) => one.code === "clock-offset").map((one) => one.text),
    judgedUntil: rule.history.period.to,
    timeZone: rule.site.timeZone,
    uneven: worseningTexts(supposed, firings, wanted),
    ownWords,
    design: finding.design?.figures == null ? finding.design : { ...finding.design, figures: withConfirmed(finding.design.figures, confirmedOf(figures)) },
    claims: finding.claims,
  });
  return { ...finding, ...figures, verdict, reasons };
}

/** How firings and wanted instants of a rule turned out. */
export type Counts = Pick<RuleFinding, "firings" | "wanted">;

/** The counts alone of {@link supposing}, at a fraction of the cost; what is read too seldom to confirm "in time" counts as confirmed here. */
export function countsSupposing({ rule, finding }: JudgedRule, rows: readonly Row[], bare: ReferenceBook): Counts {
  const { outside, full } = truthsSupposing(rule, rows, bare);
  const outcomes = rule.replayed.firings.map((at) => firingOutcome(at, rule, { truth: outside }));
  const wanted = countedStretches(rule, { outside: { truth: outside }, full: { truth: full }, hidden: rule.witnesses.hidden }).counted.map((stretch) => ({ verified: stretch.verified, outcome: servingOf(stretch, rule.replayed, rule).outcome }));
  const fired = (outcome: FiringOutcome): number => outcomes.filter((one) => one === outcome).length;
  const became = (some: typeof wanted, outcome: (typeof wanted)[number]["outcome"]): number => some.filter((one) => one.outcome === outcome).length;
  const verified = wanted.filter((one) => one.verified);
  return {
    firings: { count: finding.firings.count, right: fired("right"), wrong: fired("wrong"), unverified: fired("unverified") },
    wanted: {
      count: wanted.length,
      served: became(wanted, "served"),
      late: became(wanted, "late"),
      missed: became(wanted, "missed"),
      verified: verified.length,
      verifiedFailed: verified.length - became(verified, "served"),
    },
  };
}

/**
 * What the facts would be if the diary had these rows too. They are worked out anew only where a row can make a difference:
 * in its time, and for as long afterwards as the facts look back.
 */
function truthsSupposing(rule: RuleOverHistory, rows: readonly Row[], bare: ReferenceBook): { readonly outside: Timeline; readonly full: Timeline } {
  const { history: { period }, site, witnesses, spec } = rule;
  // The longest window, and the longest gap before a turn. A millisecond more, so that the state before the gap is seen.
  const reachMs = longestWindowMs(spec.rightWhen) + site.bridgeMs + 1;
  const changed = intersection(union(rows.map(({ from, to }) => ({ from, to: to + reachMs }))), [period]);
  const truthOf = ({ truth, parts, references }: Facts, backing: Backing): Timeline =>
    patched(
      truth,
      changed.map(({ from, to }) => {
        const window = { from: Math.max(period.from, from - reachMs), to };
        const own = rows.filter((row) => row.from < to && row.to > window.from);
        const touched = new Set(own.map(({ subject }) => subject));
        const known = { get: (part: Expression) => (atomsOf(part).some(({ ref }) => touched.has(ref)) ? undefined : restrict(timelineOfPart(part, parts), window.from, to)) };
        const heard = (subject: string): Resolved => {
          const reference = within(lookUp(references, subject), window);
          const laid = withRows(reference, own, () => within(bare(subject, reference.excluding), window), site);
          return { timeline: confirmedTimeline(laid, backing), barriers: laid.barriers ?? [] };
        };
        return restrict(timelineOfPart(spec.rightWhen, evaluateParts(spec.rightWhen, heard, site.bridgeMs, known)), from, to);
      }),
    );
  return { outside: truthOf(witnesses.outside, "verified"), full: truthOf(witnesses.full, "supported") };
}

/** What a reference says of a part of the period. */
function within(reference: Reference, { from, to }: Interval): Reference {
  return { ...reference, segments: during(reference.segments, from, to), timeline: restrict(reference.timeline, from, to) };
}

/** A row that an answer writes. */
export type Row = Answer["rows"][number];

/** The book with rows of a diary laid over it. Remembers its answers. */
function bookWith(book: ReferenceBook, rows: readonly Row[], bare: ReferenceBook, site: Site): ReferenceBook {
  const known = new Map<string, Reference>();
  return (subject, excluding) => {
    if (!rows.some((one) => one.subject === subject)) return book(subject, excluding);
    const key = JSON.stringify([subject, excluding]);
    const reference = known.get(key) ?? withRows(book(subject, excluding), rows, () => bare(subject, excluding), site);
    known.set(key, reference);
    return reference;
  };
}

/** The reference with those of the rows that tell of its subject laid over it. */
function withRows(reference: Reference, rows: readonly Row[], bare: () => Reference, site: Site): Reference {
  const words = stateWords[site.subjects.find((one) => one.id === reference.subject)?.class ?? "person"];
  const laid = rows.filter((one) => one.subject === reference.subject).flatMap(({ state, from, to }): ReferenceSegment[] => {
    if (state === TAKEN_BACK) return during(bare().segments, from, to).map((one) => ({ ...one, from: Math.max(one.from, from), to: Math.min(one.to, to) }));
    return state === "" ? [] : [{ from, to, state: state === words.on ? 1 : 0, probability: 1, basis: "diary", vouchers: [] }];
  });
  return overlaid(reference, laid);
}

/** The reference with other segments in place of its own wherever they lie; of two that overlap the later one in the list stands. */
function overlaid(reference: Reference, laid: readonly ReferenceSegment[]): Reference {
  const withoutTimeOf = (segments: readonly ReferenceSegment[], holes: readonly ReferenceSegment[]): ReferenceSegment[] => segments.flatMap((segment) => difference([segment], holes).map((part) => ({ ...segment, ...part })));
  const apart = laid.flatMap((one, i) => withoutTimeOf([one], laid.slice(i + 1)));
  const segments = [...withoutTimeOf(reference.segments, laid), ...apart].sort((a, b) => a.from - b.from);
  const { start, end } = reference.timeline;
  const timeline = canonicalTimeline(start, end, segments.map((one) => one.from), segments.map((one) => one.state));
  return { ...reference, segments, timeline };
}
