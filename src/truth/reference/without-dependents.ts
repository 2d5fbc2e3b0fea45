import { causeGroups, connectedTo } from "../../site/cause-groups.js";
import type { ReferenceBook } from "./reference.js";

/**
 * The book for measuring delays: with a signal it leaves out those found to depend on it, through any chain. A copy of
 * a signal changes when that does, so a delay behind the copy is a delay behind the signal itself, which is none. Signals
 * that only share a board, a hub or a network stay: each sees for itself.
 */
export function withoutDependents(book: ReferenceBook, detected: readonly (readonly [string, string])[]): ReferenceBook {
  const groups = causeGroups([...new Set(detected.flat())].map((id) => ({ id, shares: [] })), detected);
  return (subject, excluding) => book(subject, excluding.flatMap((one) => (groups.has(one) ? connectedTo([one], groups) : [one])));
}
