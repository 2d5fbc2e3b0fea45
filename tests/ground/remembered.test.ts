import { expect, test } from "vitest";
import { remembered } from "../../src/ground/remembered.js";

test("is worked out once for each value, whatever comes of it", () => {
  const asked: number[] = [];
  const half = remembered((value: number) => {
    asked.push(value);
    return value % 2 === 0 ? value / 2 : undefined;
  });
  expect([4, 3, 4, 3, 6].map(half)).toEqual([2, undefined, 2, undefined, 3]);
  expect(asked).toEqual([4, 3, 6]);
});
