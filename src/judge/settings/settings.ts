import { durationText } from "../../ground/duration.js";
import type { Expression } from "../../site/expression.js";
import { expressionText } from "../../site/expression-text.js";
import type { Band, RuleSpec, Site } from "../../site/site.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import { isAtom, quorumOf, type Atom, type Compound } from "../rule/condition.js";
import type { PreparedRule } from "../rule/prepare.js";
import { figureText } from "../rule/words.js";

/** What differs from the rule as it stands; everything not named stays. Keys are parts of the rule's own condition. */
export interface Difference {
  readonly timings: ReadonlyMap<Atom, Partial<Record<Timing, number>>>;
  readonly quorums: ReadonlyMap<Compound, number>;
  readonly restMs: number | null;
  readonly bands: ReadonlyMap<string, Band>;
}

/** The rule as it stands. */
export const noDifference: Difference = { timings: new Map(), quorums: new Map(), restMs: null, bands: new Map() };

/** One other value of one setting. */
export interface Change {
  /** Two changes of one setting exclude one another. */
  readonly setting: string;
  readonly text: string;
  readonly difference: Difference;
}

/** The three times an atom may carry: they stand in the site file under these names. */
const timings = ["held", "recently", "within"] as const;
type Timing = (typeof timings)[number];

/** Times are tried at these multiples of what they are. Our own choice. */
const TIME_FACTORS = [0.25, 0.5, 0.75, 1.5, 2, 4] as const;
/** Rests tried where there is none. Our own choice. */
const FIRST_RESTS_MS = [MINUTE_MS, 5 * MINUTE_MS, 15 * MINUTE_MS] as const;
/** Edges of a band are moved by these shares of its width: too little for them to meet. Our own choice. */
const EDGE_SHARES = [-0.1, -0.05, 0.05, 0.1] as const;

/**
 * Every single change of a rule that is tried.
 * - Times (`held`, `recently`, `within`): those of equal length on subjects of one class, in one state, are one
 *   setting: most likely they were written as one ("every: people"). No time is added where there is none.
 * - The rest after a firing.
 * - How many must agree: of "at least k", every k; of "all" or "any" over signals of one class in one state, every k
 *   too. An "all" that joins different things is no redundancy and is left alone.
 * - The edges of each distance's or position's band, one at a time.
 */
export function changesOf({ spec, site }: PreparedRule): Change[] {
  return [...timingChanges(spec, site), ...restChanges(spec), ...quorumChanges(spec, site), ...bandChanges(spec, site)];
}

/** Both changes at once. They must be of different settings. */
export function joined(one: Change, other: Change): Change {
  return {
    setting: `${one.setting}\n${other.setting}`,
    text: `${one.text}; ${other.text}`,
    difference: {
      timings: new Map([...one.difference.timings, ...[...other.difference.timings].map(([atom, times]) => [atom, { ...one.difference.timings.get(atom), ...times }] as const)]),
      quorums: new Map([...one.difference.quorums, ...other.difference.quorums]),
      restMs: other.difference.restMs ?? one.difference.restMs,
      // Two edges of one band: each change holds the other edge as it stands, so take what each moved.
      bands: new Map([...one.difference.bands, ...[...other.difference.bands].map(([signal, band]) => [signal, bothMoved(one.difference.bands.get(signal), band, other.setting)] as const)]),
    },
  };
}

function bothMoved(first: Band | undefined, second: Band, setting: string): Band {
  if (first === undefined) return second;
  return setting.startsWith("near") ? { ...first, nearMetres: second.nearMetres } : { ...first, farMetres: second.farMetres };
}

/** The rule with the difference applied. Bands stay: they belong to the signals. */
export function changedRule(rule: RuleSpec, difference: Difference): RuleSpec {
  return { ...rule, when: changedCondition(rule.when, difference), restMs: difference.restMs ?? rule.restMs };
}

/**
 * The condition with the difference in it. Unchanged parts are the very same objects, so their timelines can be used
 * again.
 */
export function changedCondition(part: Expression, difference: Difference): Expression {
  switch (part.op) {
    case "is":
    case "turned": {
      const times = difference.timings.get(part);
      if (times === undefined) return part;
      return part.op === "turned" ? { ...part, withinMs: times.within ?? part.withinMs } : { ...part, heldMs: times.held ?? part.heldMs, recentlyMs: times.recently ?? part.recentlyMs };
    }
    case "not": {
      const of = changedCondition(part.of, difference);
      return of === part.of ? part : { op: "not", of };
    }
    default: {
      const of = part.of.map((one) => changedCondition(one, difference));
      const count = difference.quorums.get(part);
      if (count !== undefined) return { op: "atLeast", count, of };
      return of.every((one, i) => one === part.of[i]) ? part : { ...part, of };
    }
  }
}

function timingChanges(rule: RuleSpec, site: Site): Change[] {
  const groups = new Map<string, { readonly timing: Timing; readonly ms: number; readonly atoms: Set<Atom> }>();
  for (const atom of partsOf(rule.when).filter(isAtom)) {
    for (const timing of timings) {
      const ms = timeOf(atom, timing);
      if (ms === null || ms === 0) continue;
      const key = JSON.stringify([timing, ms, classOf(atom.ref, site), stateOf(atom)]);
      const group = groups.get(key) ?? { timing, ms, atoms: new Set() };
      groups.set(key, group);
      group.atoms.add(atom);
    }
  }
  return [...groups].flatMap(([setting, { timing, ms, atoms }]) => {
    const names = [...new Set([...atoms].map((atom) => atom.ref))];
    const named = names.length > 3 ? `${names.slice(0, 2).join(", ")} and ${names.length - 2} more` : names.join(", ");
    return multiplesOf(ms).map((to) => ({
      setting,
      text: `${named}: ${timing} ${durationText(to)} instead of ${durationText(ms)}`,
      difference: { ...noDifference, timings: new Map([...atoms].map((atom) => [atom, { [timing]: to }])) },
    }));
  });
}

function restChanges(rule: RuleSpec): Change[] {
  const tried = rule.restMs === 0 ? FIRST_RESTS_MS : multiplesOf(rule.restMs);
  return tried.map((restMs) => ({ setting: "rest", text: `rest ${durationText(restMs)} instead of ${durationText(rule.restMs)}`, difference: { ...noDifference, restMs } }));
}

function quorumChanges(rule: RuleSpec, site: Site): Change[] {
  return partsOf(rule.when).flatMap((part, i) => {
    if (isAtom(part) || part.op === "not" || part.of.length < 2) return [];
    if (part.op !== "atLeast" && !isRedundancy(part, site)) return [];
    const present = quorumOf(part);
    const counts = Array.from({ length: part.of.length }, (_, k) => k + 1).filter((count) => count !== present);
    return counts.map((count) => ({
      setting: `quorum ${i}`,
      text: `at least ${count} instead of ${present} of (${part.of.map((one) => expressionText(one, site)).join("; ")})`,
      difference: { ...noDifference, quorums: new Map([[part, count]]) },
    }));
  });
}

/** Signals of one class asked for one thing: the second is there for when the first fails. */
function isRedundancy(part: Compound, site: Site): boolean {
  const atoms = part.of.filter(isAtom);
  const asked = new Set(atoms.map((atom) => JSON.stringify([atom.op, stateOf(atom), classOf(atom.ref, site)])));
  return atoms.length === part.of.length && asked.size === 1 && new Set(atoms.map((atom) => atom.ref)).size === atoms.length;
}

function bandChanges(rule: RuleSpec, site: Site): Change[] {
  const names = new Set(partsOf(rule.when).filter(isAtom).map((atom) => atom.ref));
  return site.signals.flatMap(({ id, band }) => {
    if (band === null || !names.has(id)) return [];
    const width = band.farMetres - band.nearMetres;
    // A position's band begins at home itself: only its radius can move.
    const edges = band.nearMetres === 0 ? (["far"] as const) : (["near", "far"] as const);
    return edges.flatMap((edge) => EDGE_SHARES.flatMap((share) => movedEdge(id, band, edge, share * width)));
  });
}

function movedEdge(signal: string, band: Band, edge: "near" | "far", byMetres: number): Change[] {
  const key = edge === "near" ? "nearMetres" : "farMetres";
  const moved = { ...band, [key]: band[key] + byMetres };
  if (moved.nearMetres < 0 || moved.farMetres >= (band.maximumMetres ?? Infinity)) return [];
  // The site file would refuse a band that reaches into the readings of an empty bay.
  if (band.empty?.some(({ nearMetres, farMetres }) => nearMetres < moved.farMetres && farMetres > moved.nearMetres) === true) return [];
  const text = `${signal}: ${edge} edge ${figureText(moved[key])} m instead of ${figureText(band[key])} m`;
  return [{ setting: `${edge} ${signal}`, text, difference: { ...noDifference, bands: new Map([[signal, moved]]) } }];
}

/** Whole seconds, never none. */
function multiplesOf(ms: number): number[] {
  const tried = TIME_FACTORS.map((factor) => Math.max(SECOND_MS, Math.round((ms * factor) / SECOND_MS) * SECOND_MS));
  return [...new Set(tried)].filter((one) => one !== ms);
}

function partsOf(expression: Expression): Expression[] {
  if (isAtom(expression)) return [expression];
  return [expression, ...(expression.op === "not" ? partsOf(expression.of) : expression.of.flatMap(partsOf))];
}

function timeOf(atom: Atom, timing: Timing): number | null {
  if (atom.op === "turned") return timing === "within" ? atom.withinMs : null;
  return timing === "held" ? atom.heldMs : timing === "recently" ? atom.recentlyMs : null;
}

function stateOf(atom: Atom): 0 | 1 {
  return atom.op === "is" ? atom.state : atom.to;
}

function classOf(signal: string, site: Site): string {
  const subject = site.signals.find(({ id }) => id === signal)?.subject;
  return site.subjects.find(({ id }) => id === subject)?.class ?? "";
}
