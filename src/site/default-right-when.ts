import type { Expression } from "./expression.js";
import type { Act, Subject } from "./site.js";

/** How far an arrival may lie back for an unlock to be right, where the site file does not say (our own choice). */
const DEFAULT_ARRIVAL_TOLERANCE_MS = 15 * 60_000;

/**
 * What makes a firing right where the site file does not say. Unlock and disarm: some person turned here within the tolerance.
 * Lock and arm: every person is away. A site without people is judged by its bays (occupied, empty) instead.
 * Null where there are neither.
 */
export function defaultRightWhen(act: Act, subjects: readonly Subject[]): Expression | null {
  const people = subjects.filter((subject) => subject.class === "person");
  const judged = people.length > 0 ? people : subjects.filter((subject) => subject.class === "bay");
  const opens = act === "unlock" || act === "disarm";
  const atoms = judged.map(({ id }): Expression =>
    opens
      ? { op: "turned", ref: id, to: 1, withinMs: DEFAULT_ARRIVAL_TOLERANCE_MS }
      : { op: "is", ref: id, state: 0, heldMs: null, recentlyMs: null },
  );
  const [only] = atoms;
  if (only === undefined) return null;
  return atoms.length === 1 ? only : { op: opens ? "any" : "all", of: atoms };
}
