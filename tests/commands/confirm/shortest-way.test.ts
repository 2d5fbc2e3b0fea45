import { expect, it } from "vitest";
import { shortestWay } from "../../../src/commands/confirm/shortest-way.js";

const said = (count: number, waiting: number, all: number): string => shortestWay({ list: Array.from({ length: all }), settling: { count, waiting } });

it("says how many of the questions are enough", () => {
  expect(said(7, 0, 11)).toBe("The shortest way to a verdict is the first seven questions. The others can help too.\n");
  expect(said(3, 2, 4)).toBe("The shortest way to a verdict is the first question. The others can help too.\n");
});

it("says nothing where every question is needed, or none changes a verdict", () => {
  expect([said(7, 0, 7), said(12, 4, 8), said(0, 0, 3), said(0, 0, 0)]).toEqual(["", "", "", ""]);
});
