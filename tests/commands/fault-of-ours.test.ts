import { readdir } from "node:fs/promises";
import { expect, it, vi } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import type { ReferenceBook } from "../../src/truth/reference/reference.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

/* A slip of the program in the reference of one signal: asked for in scoring and comparing, but by no rule. */
vi.mock(import("../../src/truth/reference/book.js"), async (original) => {
  const real = await original();
  return {
    ...real,
    makeReferenceBook: (...given) => {
      const book = real.makeReferenceBook(...given);
      const slipping: ReferenceBook = (subject, excluding) => {
        if (excluding.join() === "rail") throw new TypeError("a slip in the reference of the rail");
        return book(subject, excluding);
      };
      return slipping;
    },
  };
});

it("a fault of the program in one signal's reference ends the audit, says whose fault it is, and leaves no half result", async () => {
  const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
  const around = listening(folder);
  expect(await runProgram(["audit", "site.yaml", "--out", "whole", "--quiet"], around)).toBe(1);
  expect(around.told()).toMatch(/Keyworthy failed, and it is not your fault: TypeError: a slip in the reference of the rail/);
  expect((await readdir(folder)).toSorted()).toEqual(["log.csv", "site.yaml"]);
});
