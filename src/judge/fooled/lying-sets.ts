/* eslint-disable @typescript-eslint/no-non-null-assertion -- `reached` has a place for every number of operands up to the count */
import { contradict, leavesOf, type Claim, type ClaimLeaf, type ClaimTree } from "../rule/claims.js";
import type { PreparedRule } from "../rule/prepare.js";
import type { CutSet, SinglePoints } from "../../result/rules.js";

/** Something that can lie: one signal by itself, or a shared cause that takes all of its signals with it. */
export interface Liar {
  readonly kind: "signal" | "cause";
  readonly name: string;
}

/** What lying sets are worked out from: a rule's claims, the shared causes of its signals, and which need no lie. */
export type Structure = Pick<PreparedRule, "claims" | "causesOf"> & Partial<Pick<PreparedRule, "isOneSided">>;

/** Smallest sets of liars that make a condition true on their own, smaller sets first. */
export interface LyingSets {
  readonly sets: readonly (readonly Liar[])[];
  /** Every set up to this many liars is listed; larger ones were not looked for. */
  readonly upToSize: number;
}

/** A household cannot judge four faults at once by a month of history. Our own choice. */
const LARGEST_LYING_SET = 4;

/** With more candidates than this only smaller sets are looked for: a bound on time and memory. */
const MOST_CANDIDATES = 1_000;
/** The same bound on the pairs that one cross-union may look at. */
const MOST_PAIRS = 50 * MOST_CANDIDATES;

/**
 * The minimal sets of signals and shared causes whose lying alone satisfies the condition, when every atom of every
 * other signal is taken as not supporting it. Fault-tree algebra: all = cross-union, any = union, at least k = over the
 * combinations, minimised by absorption; each atom may be satisfied by its signal or by any cause the signal shares. A
 * signal cannot make two claims that contradict one another at one instant. What a rule asks of a stir signal needs no lie, since
 * it may be so at any time; only where the rule asks nothing else is the stir itself named. It does not ask how likely an atom is to be
 * true without a lie: a door that often stands open counts as needing one. Source of the algebra: the minimal cut sets
 * of fault-tree analysis (Vesely et al. 1981, NUREG-0492).
 */
export function lyingSets({ claims, causesOf, isOneSided = () => false }: Structure, largest = LARGEST_LYING_SET): LyingSets {
  const lies = unmet(claims, ({ claim }) => isOneSided(claim.signal));
  return smallestSets(lies === "met" ? claims : lies, causesOf, largest);
}

/** What is left of the tree once some leaves are taken as met; `met` when nothing is. Leaves are asked in their order. */
export function unmet(tree: ClaimTree, isMet: (leaf: ClaimLeaf) => boolean): ClaimTree | "met" {
  if (tree.op === "claim") return isMet(tree) ? "met" : tree;
  const operands = tree.of.map((one) => unmet(one, isMet));
  const left = operands.filter((one) => one !== "met");
  const count = tree.count - (operands.length - left.length);
  return count <= 0 ? "met" : { op: "quorum", count, of: left };
}

/**
 * The dual: the minimal sets of signals and shared causes whose silence alone keeps the condition from ever holding,
 * whatever all others say. Unknown does not hold, under a "not" too, so a silent signal supports nothing; an "at least
 * k of n" is out of reach once n − k + 1 operands are. Ways to hold that contradict themselves are not ruled out, so a
 * set may be listed with one member too many, never with one too few.
 */
export function silencingSets({ claims, causesOf }: Structure, largest = LARGEST_LYING_SET): LyingSets {
  return smallestSets(blockedTree(claims), causesOf, largest, new Set());
}

/** The lying sets of size one, under the assumptions of {@link lyingSets}. */
export function singlePointsOf(rule: Structure): SinglePoints {
  const alone = lyingSets(rule, 1).sets.filter((set) => set.length === 1).flat();
  const names = (kind: "signal" | "cause"): string[] => alone.filter((liar) => liar.kind === kind).map((liar) => liar.name).sort();
  return { signals: names("signal"), causes: names("cause") };
}

/** What must be out of reach for the tree to be. */
function blockedTree(tree: ClaimTree): ClaimTree {
  return tree.op === "claim" ? tree : { op: "quorum", count: tree.of.length - tree.count + 1, of: tree.of.map(blockedTree) };
}

/** The algebra of {@link lyingSets} over a tree of claims; `disputed` are the claims to check for contradictions. */
export function smallestSets(tree: ClaimTree, causesOf: (signal: string) => readonly string[], largest: number, disputed = disputedClaims(tree)): LyingSets {
  for (let size = largest; size > 1; size -= 1) {
    const found = candidatesOf(tree, { causesOf, disputed, size });
    if (found !== null) return { sets: liarSets(found), upToSize: size };
  }
  // Never give up on sets of one. Where even their disputed claims are too many to follow, none is checked:
  // the rule then looks worse than it is, never better.
  const single = candidatesOf(tree, { causesOf, disputed, size: 1 }) ?? candidatesOf(tree, { causesOf, disputed: new Set(), size: 1 });
  return { sets: liarSets(single ?? []), upToSize: 1 };
}

/** A set of liars (as sorted keys) with those of their claims that another claim could contradict. */
interface Candidate {
  readonly liars: readonly string[];
  readonly claims: readonly Claim[];
}

interface Search {
  readonly causesOf: (signal: string) => readonly string[];
  readonly disputed: ReadonlySet<Claim>;
  readonly size: number;
}

/** Null when there are too many to follow. */
function candidatesOf(tree: ClaimTree, search: Search): Candidate[] | null {
  if (tree.op === "claim") {
    const claims = search.disputed.has(tree.claim) ? [tree.claim] : [];
    const causes = [...new Set(search.causesOf(tree.claim.signal))];
    return [keyOf({ kind: "signal", name: tree.claim.signal }), ...causes.map((cause) => keyOf({ kind: "cause", name: cause }))].map((liar) => ({ liars: [liar], claims }));
  }
  // reached[j]: the ways to satisfy exactly j of the operands looked at so far; the empty way satisfies none.
  const reached: Candidate[][] = [[{ liars: [], claims: [] }], ...Array.from({ length: Math.max(0, tree.count) }, () => [])];
  for (const [i, operand] of tree.of.entries()) {
    const ways = candidatesOf(operand, search);
    if (ways === null) return null;
    // Fewer than this cannot become enough with the operands still to come: for an "all" one count is alive at a time.
    const fewest = Math.max(1, tree.count - (tree.of.length - i - 1));
    for (let j = Math.min(tree.count, i + 1); j >= fewest; j -= 1) {
      if (reached[j - 1]!.length * ways.length > MOST_PAIRS) return null;
      const joined = minimal([...reached[j]!, ...crossUnion(reached[j - 1]!, ways, search.size)]);
      if (joined.length > MOST_CANDIDATES) return null;
      reached[j] = joined;
    }
  }
  return reached[Math.max(0, tree.count)] ?? [];
}

/** Each candidate of one list joined with each of the other, without those too large or with contradicting claims. */
function crossUnion(left: readonly Candidate[], right: readonly Candidate[], size: number): Candidate[] {
  const found: Candidate[] = [];
  for (const a of left) {
    for (const b of right) {
      const liars = merged(a.liars, b.liars, size);
      if (liars === null || a.claims.some((one) => b.claims.some((other) => contradict(one, other)))) continue;
      found.push({ liars, claims: a.claims.length === 0 ? b.claims : [...new Set([...a.claims, ...b.claims])] });
    }
  }
  return found;
}

/** Two sorted lists as one, what is in both once; null where that would be more than `most`. */
function merged(a: readonly string[], b: readonly string[], most: number): string[] | null {
  const both: string[] = [];
  for (let [i, j] = [0, 0]; i < a.length || j < b.length; ) {
    if (both.length === most) return null;
    const [one, other] = [a[i], b[j]];
    const next = one === undefined || (other !== undefined && other < one) ? other : one;
    if (next === undefined) break;
    both.push(next);
    if (one === next) i += 1;
    if (other === next) j += 1;
  }
  return both;
}

/** Absorption: a candidate goes when another needs no liar and no disputed claim beyond its own. */
function minimal(candidates: readonly Candidate[]): Candidate[] {
  const kept: Candidate[] = [];
  // Only a candidate of some of its own liars can absorb one, and they are few: no need to look at all that are kept.
  const byLiars = new Map<string, Candidate[]>();
  const bySize = candidates.toSorted((a, b) => a.liars.length - b.liars.length || a.claims.length - b.claims.length);
  for (const one of bySize) {
    const absorbed = someOf(one.liars).some((key) => byLiars.get(key)?.some((other) => other.claims.every((claim) => one.claims.includes(claim))));
    if (absorbed) continue;
    kept.push(one);
    const key = one.liars.join("\n");
    byLiars.set(key, [...(byLiars.get(key) ?? []), one]);
  }
  return kept;
}

/** Every choice of some, all or none of these, each as one text in their order. */
function someOf(liars: readonly string[]): string[] {
  return liars.reduce<string[]>((chosen, liar) => [...chosen, ...chosen.map((some) => (some === "" ? liar : `${some}\n${liar}`))], [""]);
}

/** Once the whole is satisfied claims no longer matter: absorption by liars alone. */
function liarSets(candidates: readonly Candidate[]): Liar[][] {
  return minimal(candidates.map(({ liars }) => ({ liars, claims: [] })))
    .map(({ liars }) => liars.map(liarOf))
    .toSorted((a, b) => a.length - b.length || compareTexts(a.map(keyOf).join(), b.map(keyOf).join()));
}

/** The claims that some other claim contradicts; all others can be made at once, so they need no checking. */
function disputedClaims(tree: ClaimTree): ReadonlySet<Claim> {
  const claims = leavesOf(tree).map((leaf) => leaf.claim);
  return new Set(claims.filter((one) => claims.some((other) => contradict(one, other))));
}

/** A liar as a text that no other one has. */
function keyOf(liar: Liar): string {
  return `${liar.kind}:${liar.name}`;
}

function liarOf(key: string): Liar {
  const colon = key.indexOf(":");
  return { kind: key.startsWith("signal") ? "signal" : "cause", name: key.slice(colon + 1) };
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The members of a set in words. */
function cutSetText(set: readonly Liar[]): string {
  const names = set.map((liar) => liar.name);
  if (names.length === 1) return `${names.join()} alone`;
  return `${names.slice(0, -1).join(", ")} and ${names.at(-1) ?? ""} together`;
}

/** A set in the form in which it is reported. */
export function cutSet(set: readonly Liar[]): CutSet {
  const names = (kind: Liar["kind"]): string[] => set.filter((liar) => liar.kind === kind).map((liar) => liar.name);
  return { signals: names("signal"), causes: names("cause"), text: cutSetText(set) };
}

/** Sets by their members, whatever their order. */
export function setKey(set: readonly Liar[]): string {
  return set.map(keyOf).sort().join("\n");
}
