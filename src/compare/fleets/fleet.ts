import type { Counts } from "../../result/counts.js";
import { FLEET_SCHEMA, type Fleet } from "../../result/fleet.js";
import { distinctAudits, overlappingAudits } from "./audits.js";
import { comparisonsOf } from "./comparisons.js";
import { examined } from "./faults/fault.js";
import { explainedBy, wideFaults, type WideFaults } from "./faults/wide-faults.js";
import { modesOf } from "./modes.js";
import { fleetNights } from "./nights.js";
import { ordersOf } from "./orders.js";
import { reliabilityOf } from "./reliability.js";
import { attendance, roundsOf } from "./rounds.js";
import { roundFaults } from "./round-faults.js";
import { funnelOf } from "./funnel.js";
import { sayOf } from "./say.js";
import { seenOf } from "./seen.js";

/** What a fleet result says of its own making, and who was to be in it. */
export interface FleetMaking {
  readonly madeAt: number;
  readonly madeBy: string;
  readonly leftOut: readonly { readonly what: string; readonly why: string }[];
  /** The sites that a fleet file names; null or left out: those that the audits say were audited together. */
  readonly belongs?: readonly string[] | null;
  /** Sites without an audit, and why, where that is known. */
  readonly failed?: readonly { readonly site: string; readonly why: string }[];
}

/**
 * Compares the finished audits of many sites and months. A pure function of the set of audits: their order, and the
 * runs and machines they come from, make no difference. An audit given twice (only its making differs) counts once.
 *
 * The latest audit of every site is compared and listed; earlier ones tell what is new, what goes on and what was mended.
 * @throws RangeError when two audits of one site cover common time: `overlappingAudits` names them beforehand.
 */
export function fleetOf(audits: readonly Counts[], making: FleetMaking): Fleet {
  if (overlappingAudits(audits).length > 0) throw new RangeError("Two audits of one site cover the same time.");
  // 1. The audits in their order, the latest of every site, and who is missing.
  const distinct = distinctAudits(audits);
  const confidence = distinct.reduce((most, { counts }) => Math.max(most, counts.site.confidence), 0.5);
  const counts = distinct.map((audit) => audit.counts);
  const rounds = roundsOf(counts);
  const now = rounds[0] ?? [];
  const { belongs, absent } = attendance(rounds, making.belongs ?? null, new Map((making.failed ?? []).map(({ site, why }) => [site, why])));

  // 2. Each round among its fellows, and what is wrong in it.
  const looked = rounds.map((round) => round.map(examined));
  const wide = looked.map((round) => new Map(round.map((audit) => [audit.counts.site.name, wideFaults(audit)])));
  const compared = rounds.map((round, back) => comparisonsOf(round, confidence, explainedBy(wide[back] ?? new Map<string, WideFaults>())));
  const faults = looked.map((round, back) => roundFaults(round, looked[back + 1] ?? [], compared[back] ?? comparisonsOf([], confidence), wide[back] ?? new Map<string, WideFaults>()));

  // 3. What to do, in the order of consequence; and how far to trust that it is all.
  const orders = ordersOf(looked, faults);
  const comparisons = compared[0] ?? comparisonsOf([], confidence);

  const seen = seenOf(looked[0] ?? []);
  const nights = fleetNights(looked[0] ?? [], orders);

  // 4. In one object.
  return {
    schema: FLEET_SCHEMA,
    made: { at: making.madeAt, by: making.madeBy },
    confidence,
    parts: distinct.map(({ counts: { site, period, rules }, digest }) => ({
      site: site.name,
      timeZone: site.timeZone,
      period: { from: period.from, to: period.to, days: period.days, label: period.label },
      digest,
      rules: rules.map(({ name, act, verdict }) => ({ name, act, verdict })),
    })),
    leftOut: making.leftOut,
    belongs: [...belongs],
    absent: [...absent],
    orders,
    modes: modesOf(orders),
    say: sayOf({ orders, seen, nights, absent, belongs, limits: looked[0]?.[0]?.upkeep.limits, days: Math.round(Math.max(0, ...now.map(({ period }) => period.days))), months: rounds.length }),
    funnel: funnelOf(comparisons.signals, orders),
    seen,
    nights,
    reliability: reliabilityOf(looked, faults, confidence),
    ...comparisons,
    notes: notesOf(now, counts, confidence),
  };
}

function notesOf(now: readonly Counts[], counts: readonly Counts[], confidence: number): string[] {
  const labels = new Set(now.map((one) => one.period.label));
  const old = counts.filter((one) => one.signals.some(({ disagreements }) => disagreements === undefined)).length;
  const bare = now.filter((one) => one.upkeep === undefined).length;
  const confidences = new Set(now.map((one) => one.site.confidence));
  return [
    ...(old > 0
      ? [
          `${old === 1 ? "One audit is" : `${old} audits are`} of an older version, which blamed both of two sensors that differ; audit ${old === 1 ? "it" : "them"} again for a better answer.`,
        ]
      : []),
    ...(old === 0 && bare > 0 ? [`${bare === 1 ? "One audit" : `${bare} audits`} of an older version kept no days: audit ${bare === 1 ? "it" : "them"} again to see when things happened and what they cost.`] : []),
    ...(labels.size > 1
      ? [`The latest audits cover ${labels.size} different periods; each signal's counts are compared per day and per change of its own.`]
      : []),
    ...(confidences.size > 1 ? [`The sites ask for different confidences; the fleet is compared at the highest, ${confidence}.`] : []),
  ];
}
