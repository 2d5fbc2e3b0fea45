import type { Member } from "./compare.js";
import type { Measured } from "./family.js";
import type { FleetSignal } from "./units.js";

/**
 * Each signal's faults and silences, with what the rates of its kind over the whole fleet would bring it for its own turns and
 * time (indirect standardisation): a busy signal may miss more turns without being worse.
 */
export function measuredSignals(signals: readonly FleetSignal[]): Measured {
  const kinds = groupBy(signals, (one) => one.kind);
  const rates = new Map(
    [...kinds].map(([kind, indices]) => {
      const total = (read: (one: FleetSignal) => number): number => indices.reduce((sum, index) => sum + read(signals[index]!), 0);
      const rate = (count: number, exposure: number): number => (exposure === 0 ? 0 : count / exposure);
      return [
        kind,
        {
          missedATurn: rate(total((one) => one.missedTurns), total((one) => one.turns)),
          phantomsADay: rate(total((one) => one.phantoms), total((one) => one.judgedDays)),
          silencesADay: rate(total((one) => one.silences), total((one) => one.days)),
        },
      ];
    }),
  );
  const exposed = (count: (one: FleetSignal) => number, exposure: (one: FleetSignal, rate: NonNullable<ReturnType<typeof rates.get>>) => number): Member[] =>
    signals.map((one) => ({ count: count(one), exposure: exposure(one, rates.get(one.kind)!) }));
  return {
    faults: exposed((one) => one.missedTurns + one.phantoms, (one, rate) => rate.missedATurn * one.turns + rate.phantomsADay * one.judgedDays),
    silences: exposed((one) => one.silences, (one, rate) => rate.silencesADay * one.days),
  };
}

/** The members of each group taken together as one. */
export function together(measured: Measured, groups: readonly (readonly number[])[]): Measured {
  const sum = (members: readonly Member[]): Member[] =>
    groups.map((group) => group.reduce((total, index) => ({ count: total.count + members[index]!.count, exposure: total.exposure + members[index]!.exposure }), { count: 0, exposure: 0 }));
  return { faults: sum(measured.faults), silences: sum(measured.silences) };
}

/** Indices by key, in the order of first appearance; null keys are left out. */
export function groupBy<Thing>(things: readonly Thing[], keyOf: (thing: Thing) => string | null): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  things.forEach((thing, index) => {
    const key = keyOf(thing);
    if (key === null) return;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  });
  return groups;
}
