import type { Expression } from "../../site/expression.js";
import { durationText } from "../../ground/duration.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Site, SubjectClass } from "../../site/site.js";
import { HOUR_MS, SECOND_MS } from "../../ground/units.js";
import { ON, OFF, type Timeline } from "../../timeline/timeline.js";
import { decidingAtoms } from "../rule/deciding-atoms.js";
import type { EvaluatedParts } from "../rule/evaluate.js";
import type { Proposal } from "../../result/proposals.js";
import type { Atom } from "../rule/condition.js";

/** A rule's condition with the timelines of all its parts. */
export interface Replayed {
  readonly when: Expression;
  readonly parts: EvaluatedParts;
}

/** What a proposal mends: firings of the present rule that it leaves out, and its own that serve what the present one did not. */
export interface Mended {
  readonly wrongAt: readonly number[];
  readonly servedAt: readonly number[];
}

/** What made the difference at one moment, and a word for whoever it was about. */
type Cause = { readonly reason: Exclude<Proposal["reason"], "mixed">; readonly about: string; readonly ms: number; readonly limitMs: number };

interface Look {
  readonly present: Replayed;
  readonly proposed: Replayed;
  readonly site: Site;
  readonly liveOf: (signal: string) => Timeline;
}

/**
 * Why a proposal does better, in one sentence: what most often stood between the present rule and acting rightly where
 * the proposal acts, or between the proposal and acting where the present rule is wrong.
 */
export function reasonOf(mended: Mended, look: Look): Pick<Proposal, "reason" | "why"> {
  const causes = [...mended.servedAt.map((at) => whatServed(at, look)), ...mended.wrongAt.map((at) => whatHeldBack(at, look))];
  const known = causes.filter((one) => one !== null);
  const counted = new Map<string, Cause[]>();
  for (const one of known) {
    const key = `${one.reason}\n${one.about}`;
    counted.set(key, [...(counted.get(key) ?? []), one]);
  }
  const [most] = [...counted.values()].sort((a, b) => b.length - a.length);
  const [first] = most ?? [];
  if (most === undefined || first === undefined) return { reason: "mixed", why: "It does better as a whole; no single part of it explains why." };
  return { reason: first.reason, why: sentence(first, Math.max(...most.map(({ ms }) => ms)), most.length, causes.length) };
}

function sentence({ reason, about, limitMs }: Cause, mostMs: number, count: number, of: number): string {
  const where = of === 1 ? "at the one moment that it fixes" : `at ${count === of ? `all ${of}` : `${count} of the ${of}`} moments that it fixes`;
  switch (reason) {
    case "longer windows":
      return `The present rule looks back too short a time, ${durationText(limitMs)}: ${where} ${about} had reported up to ${durationText(Math.round(mostMs / SECOND_MS) * SECOND_MS)} before the last report came.`;
    case "hears more":
      return `It also listens to ${about}, which reported ${where}. The present rule does not.`;
    case "does without":
      return `It does without ${about}, which kept the present rule from acting ${where}.`;
    case "asks for more":
      return `It also asks for ${about}, which was missing ${where}.`;
    case "own person":
      return `It believes only the person whose vehicle it is: ${where} somebody else's report made the present rule act.`;
    case "longer hold":
      return `It waits longer before it believes ${about}, ${durationText(limitMs)}: ${where} that was not true for long enough.`;
  }
}

/** Where the proposal acts and the present rule does not. */
function whatServed(at: number, { present, proposed, site, liveOf }: Look): Cause | null {
  const blocking = decidingAtoms(present.when, present.parts, at).filter(({ state, atom }) => state === OFF || atom.op === "turned");
  const own = new Set(expressionRefs(present.when));
  const forgotten = blocking.flatMap(({ atom }) => {
    if (atom.op !== "turned") return [];
    const agoMs = sinceTurn(liveOf(atom.ref), atom.to, at);
    return agoMs !== null && agoMs >= atom.withinMs && proposedLooksBack(proposed.when, atom.ref) > agoMs ? [{ ref: atom.ref, agoMs, withinMs: atom.withinMs }] : [];
  });
  const [nearest] = forgotten.sort((a, b) => a.agoMs - b.agoMs);
  if (nearest !== undefined) return { reason: "longer windows", about: nearest.ref, ms: nearest.agoMs, limitMs: nearest.withinMs };
  const blocked = new Set(blocking.map(({ atom }) => classOf(atom.ref, site)));
  const heard = decidingAtoms(proposed.when, proposed.parts, at).find(({ atom }) => !own.has(atom.ref) && atom.op === "turned" && blocked.has(classOf(atom.ref, site)));
  if (heard !== undefined) return { reason: "hears more", about: heard.atom.ref, ms: 0, limitMs: 0 };
  const theirs = new Set(expressionRefs(proposed.when));
  const moved = subjectsOf(proposed, at, site);
  const dropped = blocking.filter(({ atom }) => !theirs.has(atom.ref));
  const near = dropped.find(({ atom }) => moved.has(subjectOf(atom.ref, site))) ?? dropped[0] ?? blocking.find(({ atom }) => moved.has(subjectOf(atom.ref, site)));
  return near === undefined ? null : { reason: "does without", about: near.atom.ref, ms: 0, limitMs: 0 };
}

/** Where the present rule acts wrongly and the proposal does not. */
function whatHeldBack(at: number, { present, proposed, site }: Look): Cause | null {
  const blocking = decidingAtoms(proposed.when, proposed.parts, at).map(({ atom }) => atom);
  const trusted = decidingAtoms(present.when, present.parts, at).map(({ atom }) => atom);
  const classes = new Set(expressionRefs(present.when).map((ref) => classOf(ref, site)));
  const asked = blocking.find((atom) => !classes.has(classOf(atom.ref, site)));
  if (asked !== undefined) return { reason: "asks for more", about: wordFor(asked, site), ms: 0, limitMs: 0 };
  const held = blocking.find((atom) => atom.op === "is" && (atom.heldMs ?? 0) > Math.max(0, ...trusted.map((one) => (one.op === "is" && one.ref === atom.ref ? (one.heldMs ?? 0) : 0))));
  if (held?.op === "is") return { reason: "longer hold", about: held.ref, ms: 0, limitMs: held.heldMs ?? 0 };
  const own = new Set(expressionRefs(present.when));
  const further = blocking.find((atom) => !own.has(atom.ref));
  if (further !== undefined) return { reason: "asks for more", about: `a report of ${further.ref}`, ms: 0, limitMs: 0 };
  const persons = (atoms: readonly Atom[]): Set<string> => new Set(atoms.filter((atom) => classOf(atom.ref, site) === "person").map(({ ref }) => ref));
  const [lacking, believed] = [persons(blocking), persons(trusted)];
  if (lacking.size > 0 && [...believed].some((ref) => !lacking.has(ref))) return { reason: "own person", about: "", ms: 0, limitMs: 0 };
  return null;
}

/** The subjects whose reports make the proposal act. */
function subjectsOf({ when, parts }: Replayed, at: number, site: Site): ReadonlySet<string> {
  return new Set(decidingAtoms(when, parts, at).map(({ atom }) => subjectOf(atom.ref, site)));
}

function subjectOf(signal: string, site: Site): string {
  return site.signals.find(({ id }) => id === signal)?.subject ?? signal;
}

function classOf(signal: string, site: Site): SubjectClass | null {
  return site.subjects.find(({ id }) => id === subjectOf(signal, site))?.class ?? null;
}

function wordFor({ ref }: Atom, site: Site): string {
  const wanted = classOf(ref, site);
  return wanted === "bay" ? "a report from the bays" : wanted === "door" ? "a report from the doors" : "a report from the people's devices";
}

/** How far back the condition looks for a turn of the signal; 0 where it does not. */
function proposedLooksBack(part: Expression, ref: string): number {
  if (part.op === "turned") return part.ref === ref ? part.withinMs : 0;
  if (part.op === "is") return part.ref === ref ? (part.recentlyMs ?? 0) : 0;
  return part.op === "not" ? 0 : Math.max(...part.of.map((one) => proposedLooksBack(one, ref)));
}

/** How long ago the signal last turned so, at most an hour; null where it did not. */
function sinceTurn({ times, states }: Timeline, to: 0 | 1, at: number): number | null {
  for (let i = times.length - 1; i > 0; i -= 1) {
    const time = times[i] ?? 0;
    if (time > at || states[i] !== (to === 1 ? ON : OFF)) continue;
    return at - time <= HOUR_MS ? at - time : null;
  }
  return null;
}
