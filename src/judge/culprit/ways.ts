import { ascending } from "d3-array";
import type { ClaimLeaf, ClaimTree } from "../rule/claims.js";

/** One way in which a rule can fire: all of these claims at once. */
export type Way = readonly ClaimLeaf[];

/** At most this many ways are looked at, the first by their words: a rule has few that belong to one event. Our own choice. */
const MOST_WAYS = 256;

/** The ways that belong closest to an event, and how far they stray from it. */
interface Closest {
  readonly strayMs: number;
  readonly ways: readonly Way[];
}

/**
 * The ways in which the rule could have fired that belong to an event: `strayMs` says of each claim how far what it
 * claims lies from what truly happened at the event (0: it is part of it), and a way strays by the sum of its claims.
 * Those that stray least are given. Of "k of n" the k closest count, of "all" all of them. The answer does not depend
 * on the order in which the condition is written.
 */
export function closestWays(tree: ClaimTree, strayMs: (leaf: ClaimLeaf) => number): readonly Way[] {
  return closest(tree, strayMs).ways;
}

function closest(tree: ClaimTree, strayMs: (leaf: ClaimLeaf) => number): Closest {
  if (tree.op === "claim") return { strayMs: strayMs(tree), ways: [[tree]] };
  const operands = tree.of.map((part) => closest(part, strayMs)).sort((a, b) => a.strayMs - b.strayMs || ascending(keyOf(a), keyOf(b)));
  const last = operands[tree.count - 1];
  if (last === undefined) return { strayMs: Infinity, ways: [] };
  const sure = operands.filter((one) => one.strayMs < last.strayMs);
  const tied = operands.filter((one) => one.strayMs === last.strayMs);
  const chosen = choices(tied, tree.count - sure.length).flatMap((some) => together([...sure, ...some]));
  return { strayMs: operands.slice(0, tree.count).reduce((sum, one) => sum + one.strayMs, 0), ways: chosen.slice(0, MOST_WAYS) };
}

/** Every choice of `count` of the operands, {@link MOST_WAYS} at most. */
function choices(operands: readonly Closest[], count: number): Closest[][] {
  if (count === 0) return [[]];
  const found: Closest[][] = [];
  for (let i = 0; i + count <= operands.length && found.length < MOST_WAYS; i += 1) {
    const first = operands[i];
    if (first !== undefined) found.push(...choices(operands.slice(i + 1), count - 1).map((others) => [first, ...others]));
  }
  return found.slice(0, MOST_WAYS);
}

/** One way of each operand together: every combination, {@link MOST_WAYS} at most. */
function together(operands: readonly Closest[]): Way[] {
  return operands.reduce<Way[]>((ways, { ways: more }) => ways.flatMap((way) => more.map((other) => [...way, ...other])).slice(0, MOST_WAYS), [[]]);
}

/** The words by which claims are put in order: the signal, then what it claims. */
export function leafKey({ claim, holdsIn, atom }: ClaimLeaf): string {
  return `${claim.signal} ${JSON.stringify(atom, Object.keys(atom).sort())} ${holdsIn}`;
}

function keyOf({ ways }: Closest): string {
  return ways.map((way) => way.map(leafKey).sort().join("\n")).sort()[0] ?? "";
}
