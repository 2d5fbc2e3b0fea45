import { SECOND_MS } from "../../ground/units.js";
import type { Expression } from "../../site/expression.js";
import type { SubjectClass } from "../../site/site.js";
import { atomsOf, type Atom } from "../rule/condition.js";
import type { PreparedRule } from "../rule/prepare.js";
import { atomKey } from "./residual.js";
import { criticalAges } from "./atom-at.js";

/** A rule cut up by subject: no atom speaks of two subjects, so each subject's courses can be gone through alone. */
export interface GapQuestion {
  readonly when: Expression;
  readonly rightWhen: Expression;
  readonly earlyMs: number;
  /** Every window of the rule is a whole number of these: a second, or a millisecond where one is not. */
  readonly stepMs: number;
  readonly subjects: readonly SubjectQuestion[];
}

/** What a rule asks of one subject. Each atom once. */
export interface SubjectQuestion {
  readonly subject: string;
  readonly class: SubjectClass;
  readonly signals: readonly SignalQuestion[];
  /** The atoms of `right_when` about the subject itself, in no order. */
  readonly rightAtoms: readonly Atom[];
}

/** What a rule asks of one signal. */
export interface SignalQuestion {
  readonly signal: string;
  readonly atoms: readonly Atom[];
  /** Ages of a told change at which one of the atoms may change, in milliseconds, rising. */
  readonly critical: readonly number[];
}

/** The rule's question, its subjects in the order in which the condition names them, those that only make it right last. */
export function gapQuestion({ spec, site, tolerance }: PreparedRule): GapQuestion {
  const subjectOf = new Map(site.signals.map(({ id, subject }) => [id, subject]));
  const whenAtoms = atomsByRef(spec.when);
  const rightAtoms = atomsByRef(spec.rightWhen);
  const named = new Set([...[...whenAtoms.keys()].map((signal) => subjectOf.get(signal) ?? signal), ...rightAtoms.keys()]);
  const subjects = [...named].map((subject): SubjectQuestion => ({
    subject,
    class: site.subjects.find(({ id }) => id === subject)?.class ?? "door",
    signals: [...whenAtoms].filter(([signal]) => (subjectOf.get(signal) ?? signal) === subject).map(([signal, atoms]) => ({ signal, atoms, critical: sortedAges(atoms) })),
    rightAtoms: rightAtoms.get(subject) ?? [],
  }));
  const windows = [tolerance.earlyMs, ...subjects.flatMap((one) => [...one.signals.flatMap(({ critical }) => critical), ...sortedAges(one.rightAtoms)])];
  const whole = windows.every((window) => window % SECOND_MS === 0);
  return { when: spec.when, rightWhen: spec.rightWhen, earlyMs: tolerance.earlyMs, stepMs: whole ? SECOND_MS : 1, subjects };
}

/** {@link criticalAges} of several atoms, each age once, rising. */
export function sortedAges(atoms: readonly Atom[]): number[] {
  return [...new Set(atoms.flatMap(criticalAges))].sort((a, b) => a - b);
}

function atomsByRef(expression: Expression): Map<string, Atom[]> {
  const found = new Map<string, Map<string, Atom>>();
  for (const atom of atomsOf(expression)) found.set(atom.ref, (found.get(atom.ref) ?? new Map<string, Atom>()).set(atomKey(atom), atom));
  return new Map([...found].map(([ref, atoms]) => [ref, [...atoms.values()]]));
}
