import type { Reference, ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import { connectedTo } from "../../site/cause-groups.js";
import type { RuleSpec } from "../../site/site.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { Atom } from "./deciding-atoms.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "./evaluate.js";

/** What makes a firing right, worked out over one set of witnesses. */
export interface Facts {
  readonly expression: Expression;
  /** Where acting would be right (on), wrong (off), or nobody can tell. */
  readonly truth: Timeline;
  readonly parts: EvaluatedParts;
  /** The references used, by subject. */
  readonly references: ReadonlyMap<string, Reference>;
}

/** Who must stand behind a state for it to count: two independent witnesses or the diary (`verified`), or anybody at all (`supported`). */
export type Backing = "verified" | "supported";

/**
 * The facts as told by whom a rule cannot fool: neither its own signals speak, nor any that is connected to one of them through
 * shared causes, for one fault might move both. `groups` are those of `causeGroups`.
 */
export function factsOutside(rule: RuleSpec, groups: ReadonlyMap<string, string>, book: ReferenceBook, bridgeMs: number, backing: Backing): Facts {
  return factsWithout(connectedTo(expressionRefs(rule.when), groups), rule.rightWhen, book, bridgeMs, backing);
}

/**
 * Evaluates `rightWhen` over the subjects' references without the signals in `excluding`. With a rule's own signals left
 * out, only witnesses outside the rule and the diary speak; with nobody left out, all do.
 * Stretches without the backing asked for are unknown, whatever state the reference holds likeliest there.
 */
export function factsWithout(excluding: readonly string[], rightWhen: Expression, book: ReferenceBook, bridgeMs: number, backing: Backing = "supported"): Facts {
  const references = new Map(expressionRefs(rightWhen).map((subject) => [subject, book(subject, excluding)]));
  const vouched = new Map([...references].map(([subject, reference]) => [subject, vouchedTimeline(reference, backing)]));
  // Every name in the expression was put into the map just above.
  const parts = evaluateParts(rightWhen, (subject) => ({ timeline: vouched.get(subject)!, barriers: references.get(subject)!.barriers ?? [] }), bridgeMs);
  return { expression: rightWhen, truth: timelineOfPart(rightWhen, parts), parts, references };
}

/** The reference's state where it has the backing, unknown elsewhere. */
export function vouchedTimeline(reference: Reference, backing: Backing = "supported"): Timeline {
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

/** Who vouches for the atoms that decided, at `instant`: signal ids, sorted; the word `diary` for the diary. */
export function vouchersOf(atoms: readonly Atom[], facts: Facts, instant: number): string[] {
  const names = atoms.flatMap((atom) => {
    const segment = decisiveSegment(atom, facts.references.get(atom.ref)?.segments ?? [], instant);
    if (segment === null || segment.basis === "none") return [];
    return segment.basis === "diary" ? ["diary", ...segment.vouchers] : segment.vouchers;
  });
  return [...new Set(names)].sort();
}

/**
 * The stretch an atom rests on: for a turn the last one into that state that began by `instant`, if the window still
 * reaches it; otherwise the one in force at `instant`.
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
