/* eslint-disable @typescript-eslint/no-non-null-assertion -- scenes, subjects and tellings stand in one order, one each */
import { lookUp } from "../../ground/look-up.js";
import { ofSubject } from "./by-subject.js";
import type { Expression } from "../../site/expression.js";
import { isAtom, quorumOf, type Atom } from "../rule/condition.js";
import { atomAt, type Course } from "./atom-at.js";
import { breakpoints, type SubjectCourse } from "./courses.js";
import type { ChangePlace, SceneChange, SceneSubject, SignalLags } from "./gap.js";
import type { GapQuestion } from "./question.js";

/** The courses found, one for each subject of the question in its order, as a scene. */
export function sceneOf(courses: readonly SubjectCourse[], question: GapQuestion): SceneSubject[] {
  return courses.map(({ first, changes, tellings }, i) => {
    const { subject, signals } = question.subjects[i]!;
    return { subject, first, changes: changes.map((at, change) => ({ at, told: signals.map(({ signal }, j) => ({ signal, at: tellings[j]!.told[change]! })) })) };
  });
}

/**
 * Whether the rule acts wrongly at instant 0 of the scene: its condition holds then and not just before, and what makes
 * it right does not hold at any instant from then until the tolerance is over. Only the trigger may make the condition
 * hold: were it told a moment later, the condition would not hold yet, so no other change has to coincide with it.
 */
export function isGap(scene: readonly SceneSubject[], trigger: ChangePlace, question: GapQuestion): boolean {
  const { when, rightWhen, earlyMs, subjects } = question;
  const heard = heardOf(scene, question);
  const seen = (courses: ReadonlyMap<string, Course>, instant: number): boolean => holds(when, (atom) => atomAt(atom, lookUp(courses, atom.ref), instant));
  if (!seen(heard, 0) || seen(heard, -1) || seen(heardOf(toldLater(scene, trigger), question), 0)) return false;
  const happened = new Map(scene.map(({ subject, first, changes }): [string, Course] => [subject, { first, changes: changes.map(({ at }) => at) }]));
  const right = (instant: number): boolean => holds(rightWhen, (atom) => atomAt(atom, lookUp(happened, atom.ref), instant));
  return !scene.some(({ changes }, i) => breakpoints(subjects[i]!, changes.map(({ at }) => at), earlyMs).some(right));
}

function heardOf(scene: readonly SceneSubject[], { subjects }: GapQuestion): Map<string, Course> {
  return new Map(scene.flatMap(({ first, changes }, i) => subjects[i]!.signals.map(({ signal }, j): [string, Course] => [signal, { first, changes: changes.map(({ told }) => told[j]!.at) }])));
}

function toldLater(scene: readonly SceneSubject[], trigger: ChangePlace): SceneSubject[] {
  const { at, told } = ofSubject(scene, trigger.subject).changes[trigger.change]!;
  return withChange(scene, trigger, { at, told: told.map((one) => ({ ...one, at: one.at + 1 })) });
}

/** Whether the sensors are truthful in the scene: each change told within its lag, and changes in their order. */
export function isTruthful(scene: readonly SceneSubject[], lags: SignalLags): boolean {
  return scene.every(({ changes }) =>
    changes.every((change, i) => {
      const earlier = changes[i - 1];
      return (
        (earlier === undefined || change.at > earlier.at) &&
        change.told.every(({ signal, at }, j) => {
          const { leastMs, mostMs } = lookUp(lags, signal);
          return at - change.at >= leastMs && at - change.at <= mostMs && (earlier === undefined || at > earlier.told[j]!.at);
        })
      );
    }),
  );
}

/** The change that makes the rule act in a gap: told at an age at which an atom of the rule turns. */
export function triggerOf(scene: readonly SceneSubject[], question: GapQuestion): ChangePlace | null {
  for (const [i, { subject, changes }] of scene.entries()) {
    for (const [j, { signal, atoms, critical }] of question.subjects[i]!.signals.entries()) {
      const heard = { first: scene[i]!.first, changes: changes.map(({ told }) => told[j]!.at) };
      if (atoms.every((atom) => atomAt(atom, heard, -1) === atomAt(atom, heard, 0))) continue;
      const change = changes.findIndex(({ told }) => told[j]!.signal === signal && critical.includes(-told[j]!.at));
      if (change >= 0) return { subject, change };
    }
  }
  return null;
}

/** The scene with one change replaced. */
export function withChange(scene: readonly SceneSubject[], { subject, change }: ChangePlace, other: SceneChange): SceneSubject[] {
  return scene.map((one) => (one.subject === subject ? { ...one, changes: one.changes.map((was, i) => (i === change ? other : was)) } : one));
}

/** Every change of the scene, in its order. */
export function changesOf(scene: readonly SceneSubject[]): (SceneChange & ChangePlace)[] {
  return scene.flatMap(({ subject, changes }) => changes.map((one, change) => ({ ...one, subject, change })));
}

function holds(part: Expression, atom: (atom: Atom) => boolean): boolean {
  if (isAtom(part)) return atom(part);
  if (part.op === "not") return !holds(part.of, atom);
  return part.of.filter((one) => holds(one, atom)).length >= quorumOf(part);
}
