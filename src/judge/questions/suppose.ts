import { difference, during, union, type Interval } from "../../ground/intervals.js";
import { TAKEN_BACK } from "../../intake/diary-corrections.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { restrict } from "../../timeline/restrict.js";
import { stateWords } from "../../site/state-words.js";
import type { Site } from "../../site/site.js";
import type { Answer } from "../../result/questions.js";
import type { RuleFinding } from "../../result/rules.js";
import type { Reference, ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import { ruleFigures, tallyOf, type TallyContext } from "../evidence/figures.js";
import { worseningTexts } from "../evidence/occasions.js";
import { judgeFirings } from "../replay/own-words.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { wantedOutcomes } from "../replay/wanted-outcomes.js";
import { verdictOf } from "../verdict/verdict.js";
import { confirmedOf, withConfirmed } from "../design/road.js";
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

/** What a reference says of a part of the period. */
export function withinOf(reference: Reference, { from, to }: Interval): Reference {
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

/** The reference with those of the rows that tell of its subject laid over it. `bare`: the same one without a diary. */
export function withRows(reference: Reference, rows: readonly Row[], bare: () => Reference, site: Site): Reference {
  const words = stateWords[site.subjects.find((one) => one.id === reference.subject)?.class ?? "person"];
  const laid = rows.filter((one) => one.subject === reference.subject).flatMap(({ state, from, to }): ReferenceSegment[] => {
    if (state === TAKEN_BACK) return during(bare().segments, from, to).map((one) => ({ ...one, from: Math.max(one.from, from), to: Math.min(one.to, to) }));
    return state === "" ? [] : [{ from, to, state: state === words.on ? 1 : 0, probability: 1, basis: "diary", vouchers: [] }];
  });
  return overlaid(reference, laid);
}

/** The reference with other segments in place of its own wherever they lie; of two that overlap the later one in the list stands. */
function overlaid(reference: Reference, laid: readonly ReferenceSegment[]): Reference {
  const withoutTimeOf = (segments: readonly ReferenceSegment[], holes: readonly ReferenceSegment[]): ReferenceSegment[] => {
    const gaps = union(holes);
    return segments.flatMap((segment) => {
      const cut = during(gaps, segment.from, segment.to);
      return cut.length === 0 ? [segment] : difference([segment], cut).map((part) => ({ ...segment, ...part }));
    });
  };
  const apart = laid.flatMap((one, i) => withoutTimeOf([one], laid.slice(i + 1)));
  const segments = [...withoutTimeOf(reference.segments, laid), ...apart].sort((a, b) => a.from - b.from);
  const { start, end } = reference.timeline;
  const timeline = canonicalTimeline(start, end, segments.map((one) => one.from), segments.map((one) => one.state));
  return { ...reference, segments, timeline };
}
