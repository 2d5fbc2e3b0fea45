import { group } from "d3-array";
import type { Counts } from "../../result/counts.js";
import { DAY_MS } from "../../ground/units.js";

/** The audits of one round: at most one a site. */
export type Round = readonly Counts[];

/** An audit that ends this much before the latest of the fleet is of another month. Our own choice. */
const BEHIND_MS = 10 * DAY_MS;

/**
 * The latest audit of every site, then the one before of every site, and so on. What is compared and listed is the
 * first round; the others tell what is new, what goes on and what was mended.
 */
export function roundsOf(audits: readonly Counts[]): Round[] {
  const bySite = [...group(audits, ({ site }) => site.name).values()].map((own) => own.toSorted((a, b) => b.period.to - a.period.to || b.period.from - a.period.from));
  const most = Math.max(0, ...bySite.map(({ length }) => length));
  return Array.from({ length: most }, (_, back) => bySite.flatMap((own) => own[back] ?? []));
}

/** Who belongs to the fleet, and who of them has no audit of this month. */
export interface Attendance {
  readonly belongs: readonly string[];
  readonly absent: readonly { readonly site: string; readonly why: string }[];
}

/**
 * Compares who was audited with who belongs: the sites named (by a fleet file), or else those that the audits themselves
 * say were audited in the same run. `told`: why a site has no audit, where that is known.
 */
export function attendance(rounds: readonly Round[], named: readonly string[] | null, told: ReadonlyMap<string, string>): Attendance {
  const now = rounds[0] ?? [];
  const latest = Math.max(-Infinity, ...now.map(({ period }) => period.to));
  const current = now.filter(({ period }) => period.to >= latest - BEHIND_MS);
  const together = current.flatMap(({ round }) => round?.sites ?? []);
  const belongs = [...new Set(named ?? [...together, ...told.keys()])].sort();
  const seen = new Map(now.map((one) => [one.site.name, one]));
  const missing = belongs.flatMap((site) => {
    if (seen.has(site)) return [];
    return [{ site, why: told.get(site) ?? "there is no audit of it" }];
  });
  const behind = now.flatMap(({ site, period }) => (period.to < latest - BEHIND_MS ? [{ site: site.name, why: `its last audit is of ${period.label}` }] : []));
  return { belongs, absent: [...missing, ...behind].sort((a, b) => (a.site < b.site ? -1 : 1)) };
}
