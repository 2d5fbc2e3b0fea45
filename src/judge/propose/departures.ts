import type { Expression } from "../../site/expression.js";
import type { Subject, SubjectClass } from "../../site/site.js";
import { formsOf, heardIn, type Form } from "./arrivals.js";
import type { Interned } from "./intern.js";
import type { Learned } from "./occasions.js";

/**
 * Every rule tried for an act that closes: every bay empty, every door closed, every person away, each by any, by each,
 * by two or by one of its signals, people and bays for some time. What `needed` names is never left out.
 */
export function departureRules(learned: Learned, needed: ReadonlySet<SubjectClass>, interned: Interned): Expression[] {
  const found = new Set<Expression>();
  const everyOff = (subjects: readonly Subject[], form: Form, heldMs: number): Expression | null =>
    interned.joined("all", subjects.map(({ id }) => heardIn(learned.signals(id), form, (ref) => interned.atom({ op: "is", ref, state: 0, heldMs: heldMs === 0 ? null : heldMs, recentlyMs: null }), interned)));
  const parts = (wanted: SubjectClass, withHolds: boolean): (Expression | null)[] => {
    const subjects = learned.subjects(wanted);
    if (subjects.length === 0) return [null];
    const held = withHolds ? learned.holdsFor(wanted) : [0];
    const all = formsOf(learned, subjects, ["any", "each", "two"]).flatMap((form) => held.map((heldMs) => everyOff(subjects, form, heldMs)));
    return needed.has(wanted) ? all : [null, ...all];
  };
  const [bays, doors, people] = [parts("bay", true), parts("door", false), parts("person", true)];
  for (const bay of bays) {
    for (const door of doors) {
      for (const person of people) {
        const rule = interned.joined("all", [bay, door, person]);
        if (rule !== null) found.add(rule);
      }
    }
  }
  return [...found];
}
