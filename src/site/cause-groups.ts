/** The part of a signal that says what it depends on. */
export interface Dependent {
  readonly id: string;
  /** Boards, supplies, hubs, networks. */
  readonly shares: readonly string[];
}

/**
 * Groups signals connected through shared causes, through any chain: a phone on the hub and a contact on a board behind
 * that hub are one group, though they name no cause in common. `together` adds pairs that belong together for another
 * reason, such as readings that coincide. Returns the group's name (its first signal, in the order given) by signal.
 * No declared or observed cause connects signals of different groups.
 */
export function causeGroups(
  signals: readonly Dependent[],
  together: readonly (readonly [string, string])[] = [],
): ReadonlyMap<string, string> {
  const groupOf = new Map(signals.map(({ id }) => [id, id]));
  const order = new Map(signals.map(({ id }, i) => [id, i]));
  const join = (one: string, other: string): void => {
    const [a, b] = [groupOf.get(one), groupOf.get(other)];
    if (a === undefined || b === undefined || a === b) return;
    const [first, second] = (order.get(a) ?? 0) < (order.get(b) ?? 0) ? [a, b] : [b, a];
    for (const [id, group] of groupOf) if (group === second) groupOf.set(id, first);
  };
  const firstOf = new Map<string, string>();
  for (const { id, shares } of signals) {
    for (const cause of shares) {
      const known = firstOf.get(cause);
      if (known === undefined) firstOf.set(cause, id);
      else join(known, id);
    }
  }
  for (const [one, other] of together) join(one, other);
  return groupOf;
}

/** Every signal of the groups that `seeds` belong to, the seeds included; an unknown seed is a group of its own. */
export function connectedTo(seeds: readonly string[], groups: ReadonlyMap<string, string>): string[] {
  const named = new Set(seeds.map((seed) => groups.get(seed)));
  return [...new Set([...seeds, ...[...groups].flatMap(([id, group]) => (named.has(group) ? [id] : []))])];
}
