import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Movement } from "../../../src/truth/episodes/link.js";
import { linkMovements } from "../../../src/truth/episodes/link.js";
import type { SubjectClass } from "../../../src/site/site.js";
import { MINUTE } from "./small-site.js";

const JOIN = 10 * MINUTE;

function moved(subject: string, subjectClass: SubjectClass, to: 0 | 1, minute: number): Movement {
  return { subject, class: subjectClass, to, turn: { at: minute * MINUTE, earliest: minute * MINUTE }, index: 0 };
}
const bay = (id: string, to: 0 | 1, minute: number): Movement => moved(id, "bay", to, minute);
const person = (id: string, to: 0 | 1, minute: number): Movement => moved(id, "person", to, minute);
const door = (to: 0 | 1, minute: number): Movement => moved("yard-door", "door", to, minute);

function told(movements: readonly Movement[]): string[] {
  return linkMovements(movements, JOIN).map(
    (one) => `${one.kind} of ${one.anchor.subject} at ${one.anchor.turn.at / MINUTE}: ${one.movements.map((each) => `${each.subject} ${each.turn.at / MINUTE}`).join(", ")}`,
  );
}

describe("linkMovements", () => {
  test("a bay, a person and a door that move together are one arrival, anchored at the bay", () => {
    expect(told([person("mira", 1, 98), bay("bay-1", 1, 100), door(1, 101), door(0, 103)])).toEqual([
      "arrival of bay-1 at 100: mira 98, bay-1 100, yard-door 101, yard-door 103",
    ]);
  });
  test("without a bay the first person is the anchor", () => {
    expect(told([person("tom", 0, 55), person("mira", 0, 50)])).toEqual(["departure of mira at 50: mira 50, tom 55"]);
  });
  test("an arrival and a departure at the same minute stay apart", () => {
    expect(told([person("tom", 0, 100), bay("bay-1", 1, 100)])).toEqual(["arrival of bay-1 at 100: bay-1 100", "departure of tom at 100: tom 100"]);
  });
  test("two cars in convoy arrive together; a third car eleven minutes after the first does not", () => {
    expect(told([bay("bay-1", 1, 100), bay("bay-2", 1, 106), bay("bay-3", 1, 111)])).toEqual([
      "arrival of bay-1 at 100: bay-1 100, bay-2 106",
      "arrival of bay-3 at 111: bay-3 111",
    ]);
  });
  test("links do not chain: an arrival every five minutes all day is many episodes", () => {
    const day = Array.from({ length: 288 }, (_, i) => bay(`bay-${i % 30}`, 1, 5 * i));
    const linked = linkMovements(day, JOIN);
    expect(linked).toHaveLength(96);
    expect(linked.map((one) => one.movements.length)).toEqual(Array(96).fill(3));
  });
  test("the same bay twice within ten minutes is two arrivals and a departure", () => {
    expect(told([bay("bay-1", 1, 100), bay("bay-1", 0, 103), bay("bay-1", 1, 106)])).toEqual([
      "arrival of bay-1 at 100: bay-1 100",
      "departure of bay-1 at 103: bay-1 103",
      "arrival of bay-1 at 106: bay-1 106",
    ]);
  });
  test("a person joins the nearest bay's arrival, the earlier of two equally near", () => {
    expect(told([bay("bay-1", 1, 100), bay("bay-2", 1, 112), person("tom", 1, 107), person("mira", 1, 106)])).toEqual([
      "arrival of bay-1 at 100: bay-1 100, mira 106",
      "arrival of bay-2 at 112: tom 107, bay-2 112",
    ]);
  });
  test("a door's movement joins whichever is nearer, and by itself is no episode", () => {
    expect(told([bay("bay-1", 1, 100), bay("bay-2", 0, 108), door(1, 105), door(0, 119), door(1, 300)])).toEqual([
      "arrival of bay-1 at 100: bay-1 100",
      "departure of bay-2 at 108: yard-door 105, bay-2 108",
    ]);
    expect(told([door(1, 10), door(0, 11)])).toEqual([]);
  });

  test("every bay and person movement is in exactly one episode, near its anchor, no subject twice", () => {
    const movement = fc.record({ subject: fc.integer({ min: 0, max: 3 }), class: fc.constantFrom<SubjectClass>("bay", "door", "person"), to: fc.constantFrom<0 | 1>(0, 1), minute: fc.integer({ min: 0, max: 90 }) });
    fc.assert(
      fc.property(fc.array(movement, { maxLength: 30 }), (drawn) => {
        const movements = drawn.map((one) => moved(`${one.class}-${one.subject}`, one.class, one.to, one.minute));
        const linked = linkMovements(movements, JOIN);
        const anchoring = movements.filter((one) => one.class !== "door");
        expect(linked.flatMap((one) => one.movements).filter((one) => one.class !== "door")).toHaveLength(anchoring.length);
        expect(new Set(linked.flatMap((one) => one.movements)).size).toBe(linked.flatMap((one) => one.movements).length);
        for (const { kind, anchor, movements: own } of linked) {
          const people = own.filter((one) => one.class !== "door");
          expect(new Set(people.map((one) => one.subject)).size).toBe(people.length);
          for (const one of people) {
            expect(one.to).toBe(kind === "arrival" ? 1 : 0);
            expect(Math.abs(one.turn.at - anchor.turn.at)).toBeLessThanOrEqual(JOIN);
          }
          for (const one of own) expect(people.some((near) => Math.abs(near.turn.at - one.turn.at) <= JOIN)).toBe(true);
        }
      }),
    );
  });
});
