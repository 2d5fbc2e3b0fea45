import type { Counts } from "../../result/counts-schema.js";
import type { Interval } from "../../ground/intervals.js";
import { isoText } from "../../result/values.js";

/** Which earlier results take part in a comparison, and which do not. */
interface Selection {
  /** Oldest first, none overlapping another. */
  readonly used: readonly Counts[];
  readonly leftOut: readonly { readonly what: string; readonly why: string }[];
}

/**
 * Chooses among the results found those of the same site that ended before `from` (epoch milliseconds). No stretch of
 * time is ever counted twice: of two that overlap, the one that ends later is used; of two that end together, the
 * shorter; of two for the same time, the one made last. The others are left out whole (a result cannot be cut) and
 * named. Later results of the site are skipped without a note.
 */
export function selectEarlier(found: readonly Counts[], site: string, from: number): Selection {
  const own = found.filter((one) => one.site.name === site && one.period.from < from);
  const used: Counts[] = [];
  const leftOut: { what: string; why: string }[] = [];
  for (const one of own.toSorted(newestFirst)) {
    const what = describe(one);
    if (one.period.to > from) leftOut.push({ what, why: "it reaches into the period of this audit" });
    else {
      const twin = used.find((other) => overlaps(one, other));
      if (twin === undefined) used.push(one);
      else leftOut.push({ what, why: `it covers time that ${describe(twin)} covers too` });
    }
  }
  return { used: used.reverse(), leftOut };
}

/** The rules that finished audits of the site have judged on any part of this history. */
export function judgedOn(found: readonly Counts[], site: string, period: Interval): NonNullable<Counts["judged"]> {
  return found
    .filter((one) => one.site.name === site && one.period.from < period.to && one.period.to > period.from)
    .flatMap((one) => one.judged ?? []);
}

/** Whether two periods have any time in common. */
function overlaps(a: Pick<Counts, "period">, b: Pick<Counts, "period">): boolean {
  return a.period.from < b.period.to && b.period.from < a.period.to;
}

function newestFirst(a: Counts, b: Counts): number {
  return b.period.to - a.period.to || b.period.from - a.period.from || b.made.at - a.made.at;
}

function describe({ period }: Counts): string {
  return `the result for ${period.label} (${isoText(period.from)} to ${isoText(period.to)})`;
}
