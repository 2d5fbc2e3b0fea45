/* eslint-disable @typescript-eslint/no-non-null-assertion -- ranges stand in the order of the signals, and positions run below the number of instants */
import { lookUp } from "../../ground/look-up.js";
import type { Expression } from "../../site/expression.js";
import { isAtom } from "../rule/condition.js";
import { atomAt, type Course } from "./atom-at.js";
import type { LagRange } from "./gap.js";
import { sortedAges, type SubjectQuestion } from "./question.js";
import { atomKey } from "./residual.js";
import { makeTeller, MOST_ATOMS, type Telling } from "./told.js";

/** What one subject may do, and what its signals tell. The one that stands for all that look alike. */
export interface SubjectCourse extends Course {
  /** Signal by signal, in the order of the question. */
  readonly tellings: readonly Telling[];
  /** Whether an atom of the rule turns when the rule acts. */
  readonly turns: boolean;
}

/** Whether an atom is asked to hold, not to hold, or both. */
export type Wanted = ReadonlyMap<string, { readonly on: boolean; readonly off: boolean }>;

/** A subject with more instants than this to put its changes at is not gone through. Our own choice: a few tenths of a second. */
const MOST_INSTANTS = 150;

/** With more ways of telling its courses than this a subject is not gone through: many sensors on one. Our own choice: a few tenths of a second. */
const MOST_TELLINGS = 400_000;

/** What going through the courses of a subject takes besides the subject and its lags. */
export interface CourseTerms {
  readonly earlyMs: number;
  readonly stepMs: number;
  readonly wanted: Wanted;
}

/**
 * The courses of one subject with at most two changes that differ in what the rule sees or in what is right. Of those
 * that the rule cannot tell apart, only those that are right as seldom as possible. Null when there are too many
 * instants to put a change at, too many atoms of one signal, or too many signals that may tell it in their own ways.
 */
export function subjectCourses(question: SubjectQuestion, ranges: readonly LagRange[], { earlyMs, stepMs, wanted }: CourseTerms): SubjectCourse[] | null {
  const { signals } = question;
  const instants = changeInstants(question, ranges, earlyMs, stepMs);
  if (instants.length > MOST_INSTANTS || signals.some(({ atoms }) => atoms.length > MOST_ATOMS)) return null;
  const tellers = signals.map((signal, i) => makeTeller(signal, ranges[i]!, stepMs));
  const watched = breakpoints(question, instants, earlyMs);
  const alike = new Map<string, { course: SubjectCourse; rightness: bigint }[]>();
  let ways = 0;
  for (const course of coursesOver(instants)) {
    const bySignal = tellers.map((tell) => tell(course));
    if (bySignal.some((tellings) => tellings.length === 0)) continue;
    ways += bySignal.reduce((product, tellings) => product * tellings.length, 1);
    if (ways > MOST_TELLINGS) return null;
    const rightness = rightnessOf(question, course, watched, wanted);
    for (const tellings of together(bySignal)) {
      let seen = "";
      for (const { before, now } of tellings) seen += `${before} ${now},`;
      const rivals = alike.get(seen) ?? [];
      // Shorter courses come first, so an earlier one that is right no oftener makes this one needless.
      if (rivals.some((rival) => (rival.rightness & rightness) === rival.rightness)) continue;
      const kept = rivals.filter(({ course: rival, rightness: more }) => rival.changes.length < course.changes.length || (more & rightness) !== rightness);
      const turns = tellings.some(({ before, now }) => before !== now);
      alike.set(seen, [...kept, { course: { ...course, tellings, turns }, rightness }]);
    }
  }
  return [...alike.values()].flat().map(({ course }) => course);
}

/**
 * The instants that stand for all others between them. Everything asked is whether a change is older than some window,
 * whether it was told longer ago than some window, and which came first: nothing happens except at a window, or at a
 * window plus a lag. A step to either side stands for what lies between.
 */
export function changeInstants({ signals, rightAtoms }: SubjectQuestion, ranges: readonly LagRange[], earlyMs: number, stepMs: number): number[] {
  const rightAges = sortedAges(rightAtoms).flatMap((age) => [age, age - earlyMs]);
  const toldAges = signals.flatMap(({ critical }, i) => critical.flatMap((age) => [age + ranges[i]!.leastMs, age + ranges[i]!.mostMs]));
  const instants = new Set([...rightAges, ...toldAges].flatMap((age) => [-age - stepMs, -age, -age + stepMs]));
  return [...instants].sort((a, b) => a - b);
}

/** Whether each atom is asked to hold or not to: a "not" above it swaps the two. */
export function wantedOf(expression: Expression): Wanted {
  const found = new Map<string, { on: boolean; off: boolean }>();
  const visit = (part: Expression, denied: boolean): void => {
    if (isAtom(part)) {
      const before = found.get(atomKey(part));
      found.set(atomKey(part), { on: before?.on === true || !denied, off: before?.off === true || denied });
    } else if (part.op === "not") visit(part.of, !denied);
    else for (const one of part.of) visit(one, denied);
  };
  visit(expression, false);
  return found;
}

/**
 * The instants from 0 to `earlyMs` at which what is right of these changes may begin or end, 0 included: whatever holds
 * at one of them holds until the next.
 */
export function breakpoints({ rightAtoms }: Pick<SubjectQuestion, "rightAtoms">, changes: readonly number[], earlyMs: number): number[] {
  const ages = sortedAges(rightAtoms);
  const inside = changes.flatMap((at) => ages.map((age) => at + age)).filter((instant) => instant > 0 && instant <= earlyMs);
  return [...new Set([0, ...inside])].sort((a, b) => a - b);
}

/** No change, one, or two, from either state. */
function* coursesOver(instants: readonly number[]): Generator<Course> {
  const states = [0, 1] as const;
  for (const first of states) yield { first, changes: [] };
  for (const at of instants) for (const first of states) yield { first, changes: [at] };
  for (const [i, earlier] of instants.entries()) {
    for (let j = i + 1; j < instants.length; j += 1) for (const first of states) yield { first, changes: [earlier, instants[j]!] };
  }
}

/** A set of bits, in which fewer are better for a gap: each atom at each instant, in each sense in which it is wanted. */
function rightnessOf({ rightAtoms }: SubjectQuestion, course: Course, watched: readonly number[], wanted: Wanted): bigint {
  let bits = "0b0";
  for (const atom of rightAtoms) {
    const { on, off } = lookUp(wanted, atomKey(atom));
    for (const instant of watched) {
      const holds = atomAt(atom, course, instant);
      if (on) bits += holds ? "1" : "0";
      if (off) bits += holds ? "0" : "1";
    }
  }
  return BigInt(bits);
}

/** One telling of each signal, unless two different changes would turn an atom at the same instant. */
function together(bySignal: readonly (readonly Telling[])[]): Telling[][] {
  let all: Telling[][] = [[]];
  for (const tellings of bySignal) {
    const longer: Telling[][] = [];
    for (const begun of all) for (const one of tellings) if (turnTogether(begun, one)) longer.push([...begun, one]);
    all = longer;
  }
  return all;
}

function turnTogether(begun: readonly Telling[], { turning }: Telling): boolean {
  if (turning === null) return true;
  for (const other of begun) if (other.turning !== null && other.turning !== turning) return false;
  return true;
}
