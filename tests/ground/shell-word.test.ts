import { execFileSync } from "node:child_process";
import fc from "fast-check";
import { expect, it } from "vitest";
import { shellWord } from "../../src/ground/shell-word.js";

it("is taken by a shell as the name it stands for", () => {
  fc.assert(
    fc.property(fc.string({ minLength: 1, unit: fc.constantFrom("a", "'", '"', " ", "$", "`", "\\", "*", "ä", "\n") }), (name) => {
      expect(execFileSync("sh", ["-c", `printf %s ${shellWord(name)}`]).toString()).toBe(name);
    }),
    { numRuns: 40 },
  );
});

it("is never taken for an option", () => {
  expect(shellWord("-rf")).toBe("./-rf");
});

it("is never taken for an assignment by awk, or for another computer by tar", () => {
  expect(shellWord("OFS=x.log")).toBe("'./OFS=x.log'");
  expect(shellWord("host:x.tar")).toBe("'./host:x.tar'");
});
