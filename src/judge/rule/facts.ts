import type { Reference, ReferenceSegment } from "../../truth/reference/reference.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import { connectedTo } from "../../site/cause-groups.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { Atom } from "./condition.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "./evaluate.js";
import type { History, PreparedRule } from "./prepare.js";
import { type Interval, union } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";

/** Whether acting would be right, as one set of witnesses tells it. */
export interface Facts {
  readonly expression: Expression;
  /** On where acting would be right, off where it would be wrong, unknown where nobody can tell. */
  readonly truth: Timeline;
  readonly parts: EvaluatedParts;
  /** The references used, by subject. */
  readonly references: ReadonlyMap<string, Reference>;
}

/**
 * The same facts told by three sets of witnesses. "Outside" leaves out the rule's own signals and every signal
 * connected to one of them through shared causes: a single fault might move both, and a rule cannot confirm itself.
 */
export interface Witnesses {
  /** The diary, or two independent witnesses outside the rule. They decide whether a firing was right. */
  readonly outside: Facts;
  /** The diary, or at least one witness outside the rule. One alone supports and decides nothing. */
  readonly support: Facts;
  /** Everybody, the rule's own signals included. They decide what a firing looks like. */
  readonly full: Facts;
  /** When an export hides what a signal of the rule said: acting was wanted, but nobody knows what the rule did. */
  readonly hidden: readonly Interval[];
}

/**
 * Who must confirm a state for it to count: two independent witnesses or the diary (`verified`), or any witness
 * (`supported`).
 */
export type Backing = "verified" | "supported";

/** The facts of a rule over a history; `rightWhen` is the rule's own unless another is given. */
export function witnessesOf({ spec, site, signals }: PreparedRule, { book, groups, hidden }: Pick<History, "book" | "groups" | "hidden">, rightWhen: Expression = spec.rightWhen): Witnesses {
  const subjects = expressionRefs(rightWhen);
  const facts = (excluding: readonly string[], backing: Backing): Facts => {
    const references = new Map(subjects.map((subject) => [subject, book(subject, excluding)]));
    const told = new Map([...references].map(([subject, reference]) => [subject, { timeline: confirmedTimeline(reference, backing), barriers: reference.barriers ?? [] }]));
    const parts = evaluateParts(rightWhen, (subject) => lookUp(told, subject), site.bridgeMs);
    return { expression: rightWhen, truth: timelineOfPart(rightWhen, parts), parts, references };
  };
  const own = connectedTo(signals, groups);
  return { outside: facts(own, "verified"), support: facts(own, "supported"), full: facts([], "supported"), hidden: union(signals.flatMap((one) => hidden?.get(one) ?? [])) };
}

/**
 * The reference's state where it has the backing, unknown elsewhere, whatever state the reference holds most likely
 * there.
 */
export function confirmedTimeline(reference: Reference, backing: Backing = "supported"): Timeline {
  const { start, end } = reference.timeline;
  return canonicalTimeline(
    start,
    end,
    reference.segments.map((segment) => segment.from),
    reference.segments.map((segment) => (isBacked(segment, backing) ? segment.state : UNKNOWN)),
  );
}

function isBacked({ basis }: ReferenceSegment, backing: Backing): boolean {
  return basis === "diary" || basis === "several" || (basis === "one" && backing === "supported");
}

/** Who confirms the atoms that decided, at `instant`: signal ids, sorted; the word `diary` for the diary. */
export function vouchersOf(atoms: readonly Atom[], facts: Facts, instant: number): string[] {
  const names = atoms.flatMap((atom) => {
    const segment = decisiveSegment(atom, facts.references.get(atom.ref)?.segments ?? [], instant);
    if (segment === null || segment.basis === "none") return [];
    return segment.basis === "diary" ? ["diary", ...segment.vouchers] : segment.vouchers;
  });
  return [...new Set(names)].sort();
}

/**
 * The segment an atom rests on. For a turn: the last segment in the state turned to that began by `instant`, if the
 * window still reaches it. Otherwise: the segment in force at `instant`.
 */
function decisiveSegment(atom: Atom, segments: readonly ReferenceSegment[], instant: number): ReferenceSegment | null {
  const inForce = segments.findLastIndex((segment) => segment.from <= instant);
  const now = segments[inForce] ?? null;
  const aimedAt = atom.op === "turned" ? atom.to : atom.state;
  const reachMs = atom.op === "turned" ? atom.withinMs : atom.recentlyMs;
  if (reachMs === null) return now;
  const earlier = segments.slice(0, inForce + 1).findLast((segment) => segment.state === aimedAt && segment.to > instant - reachMs);
  return earlier ?? now;
}
