/* eslint-disable @typescript-eslint/no-non-null-assertion -- courses, settled parts and tellings stand in the order of the subjects and their signals */
import { lookUp } from "../../ground/look-up.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { Atom } from "../rule/condition.js";
import { atomAt } from "./atom-at.js";
import { breakpoints, subjectCourses, wantedOf, type SubjectCourse, type Wanted } from "./courses.js";
import type { LagRange, SignalLags } from "./gap.js";
import type { GapQuestion, SubjectQuestion } from "./question.js";
import { ALWAYS, atomKey, makeResiduals, NEVER, type Residual, type Settled } from "./residual.js";

/** With more steps than this the search is given up and says so. Our own choice: a few seconds. */
const MOST_STEPS = 500_000;

/** What a search of the courses came to: a gap of fewest changes, none, or an answer left open. */
export type Combined = { readonly found: "gap"; readonly courses: readonly SubjectCourse[] } | { readonly found: "no-gap" } | { readonly found: "not-searched"; readonly why: string };

/** Searches one rule again and again, with other lags each time: what stays the same is worked out once. */
export type Searcher = (lags: SignalLags) => Combined;

/** Which subjects are settled so far, and what the others still have to decide. */
interface Begun {
  readonly before: Residual;
  readonly now: Residual;
  /** What is left of `right_when` at each instant watched. */
  readonly right: readonly Residual[];
  /** Whether a subject so far turns an atom of the rule when it acts. */
  readonly turned: boolean;
  readonly cost: number;
  readonly courses: readonly SubjectCourse[];
}

/** A change counts for more than any number of subjects that move, so that the fewest changes come first. */
const CHANGE_COST = 1_000;
/** One that turns and turns back within a minute is true to the letter but hard to picture: others are shown first. */
const HASTY_MS = MINUTE_MS;

/**
 * Makes the search for one rule. Subjects are taken one after another. What a course settles is put into the condition
 * (just before, and when the rule acts) and into `right_when` (at every instant of the tolerance at which it may
 * change), and of all ways to the same remainder the cheapest is kept. Exactly one subject turns when the rule acts.
 */
export function makeSearcher(question: GapQuestion): Searcher {
  const wanted = wantedOf(question.rightWhen);
  const remembered = new Map<string, SubjectCourse[] | null>();
  const coursesOf = (subject: SubjectQuestion, lags: SignalLags): SubjectCourse[] | null => {
    const ranges = subject.signals.map(({ signal }) => lookUp(lags, signal));
    const key = likeness(subject, ranges, wanted);
    const known = remembered.get(key);
    if (known !== undefined) return known;
    const courses = subjectCourses(subject, ranges, { ...question, wanted });
    remembered.set(key, courses);
    return courses;
  };
  return (lags) => {
    const bySubject: SubjectCourse[][] = [];
    for (const subject of question.subjects) {
      const courses = coursesOf(subject, lags);
      if (courses === null) return { found: "not-searched", why: `Not searched: the rule asks about ${subject.subject} with too many different times or sensors.` };
      bySubject.push(courses);
    }
    return combined(question, bySubject);
  };
}

function costOf({ changes: [earlier, later] }: SubjectCourse): number {
  if (earlier === undefined) return 0;
  return later === undefined ? CHANGE_COST + 1 : 2 * CHANGE_COST + (later - earlier < HASTY_MS ? 3 : 1);
}

/** Equal for subjects of which the same is asked, with the same lags: two bays with two meters each, two phones. */
function likeness({ signals, rightAtoms }: SubjectQuestion, ranges: readonly LagRange[], wanted: Wanted): string {
  const nameless = (atoms: readonly Atom[]): unknown => atoms.map((atom) => ({ ...atom, ref: "" }));
  return JSON.stringify([signals.map(({ atoms }) => nameless(atoms)), nameless(rightAtoms), rightAtoms.map((atom) => wanted.get(atomKey(atom))), ranges]);
}

function combined(question: GapQuestion, bySubject: readonly (readonly SubjectCourse[])[]): Combined {
  const { when, rightWhen, earlyMs, subjects } = question;
  const [condition, right] = [makeResiduals(), makeResiduals()];
  const watched = [...new Set(bySubject.flatMap((courses, i) => courses.flatMap(({ changes }) => breakpoints(subjects[i]!, changes, earlyMs))))].sort((a, b) => a - b);
  const start: Begun = { before: condition.of(when), now: condition.of(when), right: watched.map(() => right.of(rightWhen)), turned: false, cost: 0, courses: [] };
  let begun: Begun[] = [start];
  let steps = 0;
  for (const [i, courses] of bySubject.entries()) {
    const settledOf = makeSettled(subjects[i]!, watched);
    const cheapest = new Map<string, Begun>();
    steps += begun.length * courses.length * (1 + watched.length / 8);
    if (steps > MOST_STEPS) return { found: "not-searched", why: "Not searched: the rule can be met in too many ways." };
    for (const course of courses) {
      const settled = settledOf(course);
      for (const one of begun) {
        if (course.turns && one.turned) continue;
        const now = condition.settle(one.now, settled.now);
        const before = condition.settle(one.before, settled.before);
        if (now === NEVER || before === ALWAYS) continue;
        const rights = one.right.map((part, at) => right.settle(part, settled.right[at]!));
        if (rights.includes(ALWAYS)) continue;
        const cost = one.cost + costOf(course);
        const turned = one.turned || course.turns;
        const key = `${now} ${before} ${turned} ${rights.join()}`;
        if ((cheapest.get(key)?.cost ?? Infinity) > cost) cheapest.set(key, { before, now, right: rights, turned, cost, courses: [...one.courses, course] });
      }
    }
    begun = [...cheapest.values()];
  }
  const gaps = begun.filter(({ before, now, right: rights }) => now === ALWAYS && before === NEVER && rights.every((one) => one === NEVER)).sort((a, b) => a.cost - b.cost);
  return gaps[0] === undefined ? { found: "no-gap" } : { found: "gap", courses: gaps[0].courses };
}

/** The atoms that a course settles. Equal ones are one object, as {@link Settled} asks. */
function makeSettled({ signals, rightAtoms }: SubjectQuestion, watched: readonly number[]): (course: SubjectCourse) => { before: Settled; now: Settled; right: Settled[] } {
  const known = new Map<string, Settled>();
  const settled = (key: string, make: () => (readonly [string, boolean])[]): Settled => {
    const made = known.get(key) ?? new Map(make());
    known.set(key, made);
    return made;
  };
  const heard = ({ tellings }: SubjectCourse, when: "before" | "now"): Settled =>
    settled(`rule ${tellings.map((one) => one[when]).join()}`, () => signals.flatMap(({ atoms }, i) => atoms.map((atom, bit) => [atomKey(atom), Math.floor(tellings[i]![when] / 2 ** bit) % 2 === 1] as const)));
  const right = (course: SubjectCourse, instant: number): Settled => {
    const values = rightAtoms.map((atom) => [atomKey(atom), atomAt(atom, course, instant)] as const);
    return settled(`right ${values.map(([, value]) => Number(value)).join("")}`, () => values);
  };
  return (course) => ({ before: heard(course, "before"), now: heard(course, "now"), right: watched.map((instant) => right(course, instant)) });
}
