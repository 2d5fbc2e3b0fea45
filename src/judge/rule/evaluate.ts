import type { Expression } from "../../site/expression.js";
import { all } from "../../timeline/all.js";
import { any } from "../../timeline/any.js";
import { atLeast } from "../../timeline/at-least.js";
import { held } from "../../timeline/held.js";
import { not } from "../../timeline/not.js";
import { recently } from "../../timeline/recently.js";
import { since } from "../../timeline/since.js";
import type { Timeline } from "../../timeline/timeline.js";
import { turnedWithin } from "../../timeline/turned.js";
import type { Interval } from "../../ground/intervals.js";

/** What a name in an expression stands for: its history, and the outages over which no turn is believed. */
export interface Resolved {
  readonly timeline: Timeline;
  readonly barriers: readonly Interval[];
}

/** Finds what a name stands for: a signal in a rule's condition, a subject in what makes it right. */
export type Resolve = (ref: string) => Resolved;

/** The timeline of an expression and of every part of it, by the part itself. */
export type EvaluatedParts = ReadonlyMap<Expression, Timeline>;

/**
 * The truth of an expression and of each of its parts over time: on, off or unknown. A part used twice is evaluated
 * once. `bridgeMs` is the longest gap over which a turn is believed. Parts that `known` already holds are taken from
 * there, so a caller that changes one signal evaluates only the parts that contain it. Passes on what `resolve` throws
 * for unknown names.
 * @throws RangeError when the timelines do not cover the same time, or an `all`, `any` or `atLeast` is empty.
 */
export function evaluateParts(expression: Expression, resolve: Resolve, bridgeMs: number, known: Pick<EvaluatedParts, "get"> = new Map()): EvaluatedParts {
  const parts = new Map<Expression, Timeline>();
  const visit = (part: Expression): Timeline => {
    const done = parts.get(part);
    if (done !== undefined) return done;
    const timeline = known.get(part) ?? work(part, visit, resolve, bridgeMs);
    parts.set(part, timeline);
    return timeline;
  };
  visit(expression);
  return parts;
}

/** The timeline of one part. @throws RangeError when it was never evaluated, which is a mistake of the caller. */
export function timelineOfPart(part: Expression, parts: EvaluatedParts): Timeline {
  const timeline = parts.get(part);
  if (timeline === undefined) throw new RangeError("This part of the expression was not evaluated.");
  return timeline;
}

function work(part: Expression, visit: (part: Expression) => Timeline, resolve: Resolve, bridgeMs: number): Timeline {
  switch (part.op) {
    case "all":
      return all(part.of.map(visit));
    case "any":
      return any(part.of.map(visit));
    case "atLeast":
      return atLeast(part.count, part.of.map(visit));
    case "not":
      return not(visit(part.of));
    case "is": {
      const { timeline } = resolve(part.ref);
      const now = part.state === 1 ? timeline : not(timeline);
      // With both: at some instant of the last `recentlyMs` it had been in that state for `heldMs`.
      if (part.since !== undefined) {
        const other = resolve(part.since.ref);
        return since(now, other.timeline, part.since.to, part.since.graceMs, { bridgeMs, barriers: other.barriers });
      }
      const lasting = part.heldMs === null ? now : held(now, part.heldMs);
      return part.recentlyMs === null ? lasting : recently(lasting, part.recentlyMs);
    }
    case "turned": {
      const { timeline, barriers } = resolve(part.ref);
      return turnedWithin(timeline, part.to, part.withinMs, { bridgeMs, barriers });
    }
  }
}
