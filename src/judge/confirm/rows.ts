import type { Reference, ReferenceSegment } from "../../truth/reference/reference.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Site } from "../../site/site.js";
import { UNKNOWN, type TruthState } from "../../timeline/timeline.js";
import { union, type Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { JudgedRule } from "./stakes.js";
import type { UnverifiedMoment } from "../../result/witnesses.js";
import { lookUp } from "../../ground/look-up.js";

/** A row to fill in: what was this subject on `[from, to)`? */
export interface AskedRow {
  readonly subject: string;
  readonly from: number;
  readonly to: number;
  /** Ids of the moments it bears on, most moving first. */
  readonly moments: readonly string[];
}

/**
 * A row reaches this far beyond what the rule's facts look at, so that a few seconds do not leave a moment unverified.
 */
export const AROUND_MS = MINUTE_MS;

/**
 * The rows that would settle the given moments: for each subject of the rule's facts that neither a witness outside the
 * rule nor the diary confirms, the time the facts look at, cut where all witnesses together saw a change. A person who
 * agrees with them writes one word a row; one who remembers otherwise may move the times too. Time the diary covers is
 * not asked about. Rows of one subject never overlap; they come in the order of the moments that need them first, then
 * by subject and time.
 */
export function askedRows(site: Site, judged: readonly JudgedRule[], moments: readonly UnverifiedMoment[]): AskedRow[] {
  const windows = moments.flatMap((moment, rank) =>
    judged.filter(({ rule }) => rule.spec.name === moment.rule).flatMap((one) => windowsOf(one, moment).map((window) => ({ ...window, id: moment.id, rank }))),
  );
  const fullOf = new Map(windows.map((one) => [one.subject, one.full]));
  const rows = [...fullOf].flatMap(([subject, full]) => {
    const own = windows.filter((one) => one.subject === subject);
    return cutRows(own, full).map((row) => {
      const bearing = own.filter((window) => window.from < row.to && row.from < window.to);
      return { row: { subject, ...row, moments: [...new Set(bearing.map((one) => one.id))] }, rank: Math.min(...bearing.map((one) => one.rank)) };
    });
  });
  const place = new Map(site.subjects.map(({ id }, i) => [id, i]));
  // Those of one subject are in time order already.
  return rows.sort((a, b) => a.rank - b.rank || lookUp(place, a.row.subject) - lookUp(place, b.row.subject)).map(({ row }) => row);
}

interface Window extends Interval {
  readonly subject: string;
  /** The subject by all witnesses. */
  readonly full: Reference;
}

/** The time that the facts of one moment look at, for each subject that needs asking. */
function windowsOf({ rule: { spec, signals, tolerance: { earlyMs, withinMs }, history: { book, period } } }: JudgedRule, moment: UnverifiedMoment): Window[] {
  const [before, after] = moment.sort === "firing" ? [0, earlyMs] : [earlyMs, withinMs];
  return expressionRefs(spec.rightWhen).flatMap((subject): Window[] => {
    const from = Math.max(period.from, moment.at - before - reachOf(spec.rightWhen, subject) - AROUND_MS);
    const to = Math.min(period.to, moment.at + after + AROUND_MS);
    const outside = book(subject, signals).segments.filter((one) => one.from < to && one.to > from);
    return outside.every(isConfirmed) ? [] : [{ subject, from, to, full: book(subject, []) }];
  });
}

function isConfirmed(segment: ReferenceSegment): boolean {
  return segment.basis !== "none" && segment.state !== UNKNOWN;
}

/** How far back the facts look at a subject, in milliseconds. */
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
    const rows: { from: number; to: number; said: TruthState | null }[] = [];
    for (const segment of full.segments) {
      const [from, to] = [Math.max(whole.from, segment.from), Math.min(whole.to, segment.to)];
      if (from >= to || segment.basis === "diary") continue;
      const said = isConfirmed(segment) ? segment.state : null;
      const last = rows.at(-1);
      if (last?.said === said && last.to === from) last.to = to;
      else rows.push({ from, to, said });
    }
    return rows.map(({ from, to }) => ({ from, to }));
  });
}
