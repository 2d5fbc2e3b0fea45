import type { Reference, ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import type { RuleJudgement } from "../judgement.js";
import { toleranceOf } from "../rule/prepare.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { RuleSpec, Site } from "../../site/site.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import type { UnverifiedMoment } from "./moments.js";
import { union, type Interval } from "../../ground/intervals.js";

/** A row to fill in: what was this subject on `[from, to)`? */
export interface AskedRow {
  readonly subject: string;
  readonly from: number;
  readonly to: number;
  /** Ids of the moments it bears on, most moving first. */
  readonly moments: readonly string[];
}

/** A row reaches this much beyond what the rule's facts look at, so that a second here or there does not leave a moment unverified. */
export const AROUND_MS = 60_000;

/**
 * The rows that would settle the given moments: for each subject that the rule's facts are about and that nobody outside the rule (nor
 * the diary) already vouches for, the time they look at, cut where all witnesses together saw a change. So whoever agrees
 * with them writes one word a row; who remembers otherwise may move the times too. Time the diary already covers is not asked.
 * Rows of one subject never overlap; they come in the order of the moments that need them first, then by subject and time.
 */
export function askedRows(site: Site, rules: readonly RuleJudgement[], book: ReferenceBook, period: Interval, moments: readonly UnverifiedMoment[]): AskedRow[] {
  const windows = moments.flatMap((moment, rank) => {
    const spec = site.rules.find((one) => one.name === moment.rule);
    const judged = rules.find((one) => one.name === moment.rule);
    return spec === undefined || judged === undefined ? [] : windowsOf(site, spec, judged, book, period, moment).map((window) => ({ ...window, id: moment.id, rank }));
  });
  const rows = [...new Set(windows.map((one) => one.subject))].flatMap((subject) => {
    const own = windows.filter((one) => one.subject === subject);
    const full = book(subject, []);
    return cutRows(own, full).map((row) => {
      const bearing = own.filter((window) => window.from < row.to && row.from < window.to);
      return { row: { subject, ...row, moments: [...new Set(bearing.map((one) => one.id))] }, rank: Math.min(...bearing.map((one) => one.rank)) };
    });
  });
  const place = new Map(site.subjects.map(({ id }, i) => [id, i]));
  return rows.sort((a, b) => a.rank - b.rank || place.get(a.row.subject)! - place.get(b.row.subject)! || a.row.from - b.row.from).map(({ row }) => row);
}

interface Window extends Interval {
  readonly subject: string;
}

/** The time that the facts of one moment look at, for each subject that needs asking. */
function windowsOf(site: Site, spec: RuleSpec, judged: RuleJudgement, book: ReferenceBook, period: Interval, moment: UnverifiedMoment): Window[] {
  const { earlyMs, withinMs } = toleranceOf(spec, site);
  const [before, after] = moment.sort === "firing" ? [0, earlyMs] : [earlyMs, withinMs];
  return expressionRefs(spec.rightWhen).flatMap((subject): Window[] => {
    const from = Math.max(period.from, moment.at - before - reachOf(spec.rightWhen, subject) - AROUND_MS);
    const to = Math.min(period.to, moment.at + after + AROUND_MS);
    const outside = book(subject, judged.signals).segments.filter((one) => one.from < to && one.to > from);
    return outside.every(isVouched) ? [] : [{ subject, from, to }];
  });
}

function isVouched(segment: ReferenceSegment): boolean {
  return segment.basis !== "none" && segment.state !== UNKNOWN;
}

/** How far back the facts look at a subject, milliseconds. */
function reachOf(expression: Expression, subject: string): number {
  switch (expression.op) {
    case "all":
    case "any":
    case "atLeast":
      return Math.max(0, ...expression.of.map((part) => reachOf(part, subject)));
    case "not":
      return reachOf(expression.of, subject);
    case "is":
      return expression.ref === subject ? Math.max(expression.heldMs ?? 0, expression.recentlyMs ?? 0) : 0;
    case "turned":
      return expression.ref === subject ? expression.withinMs : 0;
  }
}

/** The union of the windows, cut where the full reference changes, without what the diary says already. */
function cutRows(windows: readonly Interval[], full: Reference): Interval[] {
  return union(windows).flatMap((whole) => {
    const rows: { from: number; to: number; key: string }[] = [];
    for (const segment of full.segments) {
      const [from, to] = [Math.max(whole.from, segment.from), Math.min(whole.to, segment.to)];
      if (from >= to || segment.basis === "diary") continue;
      const key = isVouched(segment) ? String(segment.state) : "unknown";
      const last = rows.at(-1);
      if (last?.key === key && last.to === from) last.to = to;
      else rows.push({ from, to, key });
    }
    return rows.map(({ from, to }) => ({ from, to }));
  });
}
