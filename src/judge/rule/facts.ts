import type { Reference, ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import { connectedTo } from "../../site/cause-groups.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { Atom } from "./condition.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts, type Resolved } from "./evaluate.js";
import type { History, PreparedRule } from "./prepare.js";
import { type Interval, union } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";
import { remembered } from "../../ground/remembered.js";

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

/**
 * The facts of a rule over a history; `rightWhen` is the rule's own unless another is given. `before`: its facts by another book, for what
 * is the same in both.
 */
export function witnessesOf({ spec, site, signals }: PreparedRule, { book, groups, hidden }: Pick<History, "book" | "groups" | "hidden">, rightWhen: Expression = spec.rightWhen, before?: Witnesses): Witnesses {
  const factsOf = factsIn(book, rightWhen, site.bridgeMs);
  const own = connectedTo(signals, groups);
  return { outside: factsOf(own, "verified", before?.outside), support: factsOf(own, "supported", before?.support), full: factsOf([], "supported", before?.full), hidden: union(signals.flatMap((one) => hidden?.get(one) ?? [])) };
}

/** Facts by the book they were taken from: many rules are held against one history, and most of them by the same facts. */
const known = new WeakMap<ReferenceBook, Map<string, Facts[]>>();

/** Works out what makes a rule right, by those of a book's witnesses that are not excluded; once for each. */
function factsIn(book: ReferenceBook, expression: Expression, bridgeMs: number): (excluding: readonly string[], backing: Backing, like?: Facts) => Facts {
  const found = known.get(book) ?? new Map<string, Facts[]>();
  known.set(book, found);
  return (excluding, backing, like) => {
    const key = JSON.stringify([bridgeMs, backing, [...new Set(excluding)].sort()]);
    const some = found.get(key) ?? [];
    found.set(key, some);
    const before = some.find((one) => one.expression === expression);
    if (before !== undefined) return before;
    const references = new Map(expressionRefs(expression).map((subject) => [subject, book(subject, excluding)]));
    const heard = (subject: string): Resolved => {
      const reference = lookUp(references, subject);
      return { timeline: confirmedTimeline(reference, backing), barriers: reference.barriers ?? [] };
    };
    const parts = like?.expression === expression ? partsUnlike(like, references, heard, bridgeMs) : evaluateParts(expression, heard, bridgeMs);
    const facts = { expression, truth: timelineOfPart(expression, parts), parts, references };
    some.push(facts);
    return facts;
  };
}

/** The parts of facts like others: only those that speak of a subject with another reference are worked out. */
function partsUnlike({ expression, parts, references: before }: Facts, references: Facts["references"], heard: (subject: string) => Resolved, bridgeMs: number): EvaluatedParts {
  const isAsBefore = remembered((part: Expression): boolean => expressionRefs(part).every((ref) => references.get(ref) === before.get(ref)));
  return new Map([...parts, ...evaluateParts(expression, heard, bridgeMs, { get: (part) => (isAsBefore(part) ? parts.get(part) : undefined) })]);
}

/** The timelines of references by backing: each is asked for over and over. */
const confirmed = { verified: new WeakMap<Reference, Timeline>(), supported: new WeakMap<Reference, Timeline>() };

/**
 * The reference's state where it has the backing, unknown elsewhere, whatever state the reference holds most likely
 * there.
 */
export function confirmedTimeline(reference: Reference, backing: Backing = "supported"): Timeline {
  const before = confirmed[backing].get(reference);
  if (before !== undefined) return before;
  const { segments, timeline: { start, end } } = reference;
  const timeline = canonicalTimeline(start, end, segments.map(({ from }) => from), segments.map((segment) => (isBacked(segment, backing) ? segment.state : UNKNOWN)));
  confirmed[backing].set(reference, timeline);
  return timeline;
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
