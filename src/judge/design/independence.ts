import { sum } from "d3-array";
import { generator, shuffle } from "../../statistics/random-order.js";
import type { DesignHistory } from "../../result/design.js";
import { dayTypes } from "./day-types.js";
import { stretchesByDay } from "./slides.js";

/** Random orders of days. Our own choice: the smallest p-value is 0.001. */
const ORDERS = 999;

/**
 * How likely days would have at least as much of both parts by chance: Σ over days of the one's stretches times the
 * other's, against random orders of the other's days within each type of day. Small when both have the same bad days.
 * Exact where the order of days of one type means nothing; the seed is fixed.
 */
export function sharedDaysChance({ days, parts: [a, b] }: DesignHistory): number {
  const [first, second] = [stretchesByDay(a.stretches, days.length), stretchesByDay(b.stretches, days.length)];
  const types = dayTypes.map((type) => {
    const places = first.flatMap((_, day) => (days[day] === type ? [day] : []));
    return { first: places.map((day) => first[day] ?? 0), second: Float64Array.from(places, (day) => second[day] ?? 0) };
  });
  const together = (): number => sum(types, (type) => sum(type.first, (count, i) => count * (type.second[i] ?? 0)));
  const seen = together();
  const random = generator(days.length);
  let asMany = 1;
  for (let order = 0; order < ORDERS; order += 1) {
    for (const type of types) shuffle(type.second, random);
    if (together() >= seen) asMany += 1;
  }
  return asMany / (ORDERS + 1);
}
