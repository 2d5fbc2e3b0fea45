/**
 * What a rule truly did, told from the known events of a world: plain lists of stretches, two values, none of the program's code.
 */
import type { Part, Rule, Sensor, Span, Subject, World } from "./world.js";

/** Counts of one world. */
export interface Truly {
  readonly firings: number;
  readonly wrong: number;
  readonly wanted: number;
  /** Neither by the time limit nor ever. */
  readonly missedOrLate: number;
}

/** The rule's true counts over a world; `withinMs` is the limit's. */
export function trulyOf(world: World, rule: Rule, withinMs: number): Truly {
  const rises = conditionOf(world, rule).filter(({ from }) => from > world.from).map(({ from }) => from);
  const firings: number[] = [];
  for (const at of rises) if (at >= (firings.at(-1) ?? -Infinity) + rule.restMs) firings.push(at);
  const right = rightTimes(world, rule);
  const earlyMs = rule.act === "unlock" ? withinMs : 0;
  const wanted = right.filter(({ from, to }) => from > world.from && from + withinMs <= world.to && (rule.act === "unlock" || to - from >= withinMs));
  const served = wanted.filter(({ from, to }) => (rule.act === "unlock" ? rises : firings).some((at) => at >= from - earlyMs && at <= from + withinMs && at < to));
  return {
    firings: firings.length,
    wrong: firings.filter((at) => !right.some(({ from, to }) => from <= at + earlyMs && to >= at)).length,
    wanted: wanted.length,
    missedOrLate: wanted.length - served.length,
  };
}

/** When the whole condition was so. */
function conditionOf(world: World, rule: Rule): Span[] {
  return rule.parts.map((part) => partTimes(world, part)).reduce((left, other) => common(left, other));
}

function partTimes(world: World, part: Part): Span[] {
  if (part.form === "is") {
    return stretchesOf(sensorOf(world, part.sensor), part.says, world).map(({ from, to }) => ({ from: from + part.heldMs, to })).filter(({ from, to }) => from < to);
  }
  return united(
    part.anyOf.flatMap((id) => {
      const { steps } = sensorOf(world, id);
      return steps.flatMap(({ at, says }, i) => (says === 1 && steps[i - 1]?.says === 0 ? [{ from: at, to: at + part.withinMs }] : []));
    }),
  );
}

function sensorOf(world: World, id: string): Sensor {
  return world.sensors.find((one) => one.id === id)!;
}

function stretchesOf({ steps }: Sensor, says: 0 | 1, world: World): Span[] {
  return steps.flatMap((step, i) => (step.says === says ? [{ from: step.at, to: steps[i + 1]?.at ?? world.to }] : []));
}

/** When acting was truly right: somebody had just come, or all were off. In order, apart. */
export function rightTimes(world: World, { right }: Rule): Span[] {
  const of = (ids: readonly string[]): Subject[] => ids.map((id) => world.subjects.find((one) => one.id === id)!);
  const came = (ids: readonly string[], withinMs: number): Span[] =>
    united(of(ids).flatMap(({ on }) => on.filter(({ from }) => from > world.from).map(({ from }) => ({ from, to: Math.min(from + withinMs, world.to) }))));
  if (right.form === "came") return came(right.subjects, right.withinMs);
  const each = right.form === "each came" ? right.groups.map((group) => came(group, right.withinMs)) : of(right.subjects).map(({ on }) => outside(on, world));
  return each.reduce((left, other) => common(left, other));
}

/** The time of `world` outside the stretches. */
export function outside(spans: readonly Span[], world: Span): Span[] {
  const edges = [world.from, ...spans.flatMap(({ from, to }) => [from, to]), world.to];
  return edges.flatMap((from, i) => (i % 2 === 0 && from < edges[i + 1]! ? [{ from, to: edges[i + 1]! }] : []));
}

/** Overlapping or touching stretches made one. */
export function united(spans: readonly Span[]): Span[] {
  const found: { from: number; to: number }[] = [];
  for (const { from, to } of spans.toSorted((a, b) => a.from - b.from)) {
    const last = found.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else found.push({ from, to });
  }
  return found;
}

/** Where a stretch of one list and one of the other overlap. Both in order and apart. */
export function common(left: readonly Span[], right: readonly Span[]): Span[] {
  const found: Span[] = [];
  for (let i = 0, j = 0; i < left.length && j < right.length; ) {
    const [from, to] = [Math.max(left[i]!.from, right[j]!.from), Math.min(left[i]!.to, right[j]!.to)];
    if (from < to) found.push({ from, to });
    if (left[i]!.to < right[j]!.to) i += 1;
    else j += 1;
  }
  return found;
}
