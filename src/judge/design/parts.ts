import { causeGroups } from "../../site/cause-groups.js";
import type { Expression } from "../../site/expression.js";
import { nothingStated } from "../../site/stated.js";
import type { SubjectClass } from "../../site/site.js";
import { leavesOf, type Claim, type ClaimLeaf, type ClaimTree } from "../rule/claims.js";
import type { PreparedRule } from "../rule/prepare.js";

/** What a part of a rule listens to. */
export type PartName = "vehicles" | "people";

/**
 * A part of a rule: all that it says about vehicles, or all that it says about people, with everything else taken as
 * true. Whenever the rule's condition holds, so does that of each part.
 */
export interface Part {
  readonly name: PartName;
  readonly signals: readonly string[];
  readonly condition: Expression;
  /** The longest that one event can keep the condition true; Infinity where nothing ends it. */
  readonly longestMs: number;
}

/** The two parts of a rule that must be wrong together; or why it does not have two. */
export type Split = { readonly parts: readonly [Part, Part] } | { readonly why: string };

/** Longer stretches are no pulses: how often they begin says little about how often they overlap. Our own choice. */
const LONGEST_PULSES_MS = 3_600_000;

/**
 * Splits a rule into what it says about vehicles and what it says about people. A true event of the one kind does not
 * move the other while firing would be wrong, so only faults can make both hold then. Doors belong to neither: a
 * visitor's vehicle and a person on foot both move them. Leaving them out can only make the rule look worse.
 * `seen` are pairs of signals found to depend on each other.
 */
export function splitRule(rule: PreparedRule, seen: readonly (readonly [string, string])[]): Split {
  const classOf = new Map(rule.site.signals.map(({ id, subject }) => [id, rule.site.subjects.find((one) => one.id === subject)?.class ?? null]));
  const isOf = (wanted: SubjectClass) => ({ claim }: ClaimLeaf): boolean => classOf.get(claim.signal) === wanted;
  const [vehicles, people] = [partOf("vehicles", rule, isOf("bay")), partOf("people", rule, isOf("person"))];
  if (vehicles === null || people === null) {
    const missing = vehicles === null ? "vehicle" : "person";
    return { why: `It can act without any report about a ${missing}, so no second, independent fault is needed.` };
  }
  const link = linkBetween(vehicles, people, rule, seen);
  if (link !== null) return { why: link };
  const endless = [vehicles, people].find((part) => part.longestMs === Infinity);
  if (endless !== undefined) return { why: `Its condition about ${endless.name} can stay true for hours, so how often it starts says little about how often both are true at once.` };
  if (vehicles.longestMs + people.longestMs > LONGEST_PULSES_MS) return { why: "Its windows add up to more than an hour, too long for this calculation." };
  return { parts: [vehicles, people] };
}

/** Null when the rule can act without this part. */
function partOf(name: PartName, rule: PreparedRule, isIn: (leaf: ClaimLeaf) => boolean): Part | null {
  const kept = restricted(rule.claims, isIn);
  if (kept === true) return null;
  return {
    name,
    signals: [...new Set(leavesOf(kept).map((leaf) => leaf.claim.signal))].sort(),
    condition: expressionOf(kept),
    longestMs: longestOf(kept),
  };
}

/** The tree with every other leaf taken as true; `true` when that makes the whole true. */
function restricted(tree: ClaimTree, isIn: (leaf: ClaimLeaf) => boolean): ClaimTree | true {
  if (tree.op === "claim") return isIn(tree) ? tree : true;
  const operands = tree.of.map((one) => restricted(one, isIn));
  const of = operands.filter((one) => one !== true);
  const count = tree.count - (operands.length - of.length);
  const [only] = of;
  if (count <= 0 || only === undefined) return true;
  return of.length === 1 ? only : { op: "quorum", count, of };
}

function expressionOf(tree: ClaimTree): Expression {
  if (tree.op === "claim") return tree.holdsIn === 1 ? tree.atom : { op: "not", of: tree.atom };
  const of = tree.of.map(expressionOf);
  return tree.count === of.length ? { op: "all", of } : tree.count === 1 ? { op: "any", of } : { op: "atLeast", count: tree.count, of };
}

function longestOf(tree: ClaimTree): number {
  if (tree.op === "claim") return longestOfClaim(tree.claim);
  const lengths = tree.of.map(longestOf).sort((a, b) => a - b);
  // At least k of n end when the (n − k + 1)th of them ends.
  return lengths[lengths.length - tree.count] ?? Infinity;
}

function longestOfClaim(claim: Claim): number {
  return claim.form === "turned" ? claim.withinMs : Infinity;
}

/** What could make both parts wrong at once; null when nothing declared, seen or stated does. */
function linkBetween(a: Part, b: Part, rule: PreparedRule, seen: readonly (readonly [string, string])[]): string | null {
  const { causesOf } = rule;
  const statedPart = statedParts(rule);
  for (const one of a.signals) {
    for (const other of b.signals) {
      const cause = causesOf(one).find((name) => causesOf(other).includes(name));
      if (cause !== undefined) return `${one} and ${other} both depend on ${cause}: one fault can make both wrong.`;
      if (seen.some((pair) => pair.includes(one) && pair.includes(other))) return `${one} and ${other} were found to go wrong together.`;
      if (statedPart.get(one) === statedPart.get(other)) return `The site file takes ${one} and ${other} as one part.`;
    }
  }
  return null;
}

/** What the site file takes as one part, by signal: lists that share a signal are one, through any chain. */
function statedParts({ spec, site }: PreparedRule): ReadonlyMap<string, string> {
  const { oneParts } = spec.stated ?? nothingStated;
  const pairs = oneParts.flatMap(([first = "", ...others]) => others.map((other) => [first, other] as const));
  return causeGroups(site.signals.map(({ id }) => ({ id, shares: [] })), pairs);
}
