import type { Expression, IsAtom, TurnedAtom } from "./expression.js";

/** Two parts of a condition that exclude each other. */
export interface Clash {
  readonly one: Expression;
  readonly other: Expression;
}

/**
 * Whether a condition can never be on, whatever its signals do. Sound, not complete: `null` means "not shown to be impossible".
 * `clash` is the first pair of parts found to exclude each other (one of possibly several).
 *
 * Method: the condition is brought to negation normal form (Kleene's logic keeps de Morgan's laws, and `not x` is on only
 * where x is *known* off), then all ways to satisfy it are searched depth first; a branch ends at the first two demands on
 * one signal that exclude each other. The search is bounded by {@link MOST_STEPS}.
 */
export function contradiction(condition: Expression): { readonly clash: Clash | null } | null {
  const search: Search = { steps: 0, clash: null, taken: new Map(), trail: [] };
  const goals = { goal: { part: condition, wanted: true }, next: null };
  return satisfiable(goals, null, 0, search) ? null : { clash: search.clash };
}

/** Steps after which the search gives up and reports nothing; real rules need far fewer. */
const MOST_STEPS = 20_000;
/** Deeper choices within choices would exhaust the stack: the search gives up. */
const MOST_CHOICES = 1_000;

interface Search {
  steps: number;
  clash: Clash | null;
  /** The demands of the branch being tried, by signal. */
  readonly taken: Map<string, Taken[]>;
  /** The signals of these demands, in the order of the demands: the last is taken back first. */
  readonly trail: string[];
}

/** A part, and whether it must be on or known off. */
interface Goal {
  readonly part: Expression;
  readonly wanted: boolean;
}

/** A linked list of goals that must all be met: branches share their tails. */
interface Goals {
  readonly goal: Goal;
  readonly next: Goals | null;
}

/** At least `needed` of the options must be met. */
interface Choice {
  readonly options: readonly Goal[];
  readonly needed: number;
  readonly next: Choice | null;
}

/** What a signal must have done, seen from the instant of evaluation t. All windows are [t − ms, t]. */
type Demand =
  | { readonly kind: "throughout"; readonly state: 0 | 1; readonly ms: number }
  | { readonly kind: "sometime"; readonly state: 0 | 1; readonly ms: number }
  | { readonly kind: "turn"; readonly state: 0 | 1; readonly ms: number }
  | { readonly kind: "no turn"; readonly state: 0 | 1; readonly ms: number };

/** A demand with the part of the condition that made it. */
interface Taken {
  readonly demand: Demand;
  readonly part: Expression;
}

/** Meets goals without a choice first: they rule out most options. */
function satisfiable(goals: Goals | null, choices: Choice | null, depth: number, search: Search): boolean {
  while (goals !== null) {
    search.steps++;
    if (search.steps > MOST_STEPS) return true;
    const { part, wanted } = goals.goal;
    goals = goals.next;
    if (part.op === "not") goals = { goal: { part: part.of, wanted: !wanted }, next: goals };
    else if (part.op === "is" || part.op === "turned") {
      if (!take(part, wanted, search)) return false;
    } else {
      const onNeeded = part.op === "atLeast" ? part.count : part.op === "all" ? part.of.length : 1;
      // Fewer than k are on for certain where n − k + 1 are known off.
      const needed = wanted ? onNeeded : part.of.length - onNeeded + 1;
      const options = part.of.map((one) => ({ part: one, wanted }));
      if (needed > options.length) return false;
      if (needed === options.length) for (const goal of options) goals = { goal, next: goals };
      else if (needed > 0) choices = { options, needed, next: choices };
    }
  }
  return choices === null || chosen(choices, depth + 1, search);
}

/** Tries each option as the first one met, and chooses the others from those after it. */
function chosen({ options, needed, next }: Choice, depth: number, search: Search): boolean {
  if (depth > MOST_CHOICES) return true;
  for (const [first, goal] of options.slice(0, options.length - needed + 1).entries()) {
    const later = needed === 1 ? next : { options: options.slice(first + 1), needed: needed - 1, next };
    const mark = search.trail.length;
    if (satisfiable({ goal, next: null }, later, depth, search)) return true;
    for (const ref of search.trail.splice(mark).reverse()) search.taken.get(ref)?.pop();
  }
  return false;
}

/** Adds a demand; false where an earlier one on the same signal excludes it. */
function take(atom: IsAtom | TurnedAtom, wanted: boolean, search: Search): boolean {
  const demand = demandOf(atom, wanted);
  if (demand === null) return true;
  const part: Expression = wanted ? atom : { op: "not", of: atom };
  const earlier = search.taken.get(atom.ref) ?? [];
  const excluding = earlier.find((one) => exclude(one.demand, demand) || exclude(demand, one.demand));
  if (excluding !== undefined) {
    search.clash ??= { one: excluding.part, other: part };
    return false;
  }
  if (earlier.length === 0) search.taken.set(atom.ref, earlier);
  earlier.push({ demand, part });
  search.trail.push(atom.ref);
  return true;
}

/** Null where the atom asks nothing of its own signal alone. */
function demandOf(atom: IsAtom | TurnedAtom, wanted: boolean): Demand | null {
  if (atom.op === "turned") return { kind: wanted ? "turn" : "no turn", state: atom.to, ms: atom.withinMs };
  // Since some change: on, it is in that state now; off, the change may never have come.
  if (atom.since !== undefined) return wanted ? { kind: "throughout", state: atom.state, ms: 0 } : null;
  const state = wanted ? atom.state : atom.state === 1 ? 0 : 1;
  if (atom.heldMs !== null) return { kind: wanted ? "throughout" : "sometime", state, ms: atom.heldMs };
  // "Recently" is known off where the other state held throughout.
  if (atom.recentlyMs !== null) return { kind: wanted ? "sometime" : "throughout", state, ms: atom.recentlyMs };
  return { kind: "throughout", state, ms: 0 };
}

/** Whether no history can meet both demands. Ask both ways round. */
function exclude(a: Demand, b: Demand): boolean {
  switch (a.kind) {
    case "throughout":
      // Both hold at t itself.
      if (b.kind === "throughout") return a.state !== b.state;
      if (b.kind === "sometime") return a.state !== b.state && b.ms <= a.ms;
      // A turn at τ is seen while t < τ + ms, so τ > t − ms; whichever way it goes, just before it or at it the state differs.
      return b.kind === "turn" && b.ms <= a.ms;
    case "turn":
      return b.kind === "no turn" && a.state === b.state && a.ms <= b.ms;
    default:
      return false;
  }
}
