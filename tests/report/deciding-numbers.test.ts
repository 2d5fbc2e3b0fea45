import { expect, test } from "vitest";
import { decidingBound } from "../../src/report/deciding-numbers.js";
import { rowsAt, whole } from "../../src/report/traced.js";
import type { Reason } from "../../src/result/rules.js";
import { exampleFindings } from "./example-findings.js";

const counted = (effect: Reason["effect"]): Reason => ({ code: "wrong-upper-bound", effect, text: "counted", measured: 25, limit: 1, unit: "per year" });
const designed = (effect: Reason["effect"]): Reason => ({ code: "by-design", effect, text: "designed", measured: 0.7, limit: 1, unit: "per year" });
/** The number beside the verdict of a rule with these reasons. */
const deciding = (...reasons: Reason[]): number | null => {
  const rules = exampleFindings.rules.map((rule) => ({ ...rule, reasons }));
  const [rule] = rowsAt(whole({ ...exampleFindings, rules }), "rules");
  return decidingBound(rule!, "wrong").reason?.of.measured ?? null;
};

test("where only design clears a rule its number decides, not that of counting", () => {
  expect(deciding(counted("noted"), designed("clears"))).toBe(0.7);
});

test("where counting clears it, or nothing does, the number is that of counting", () => {
  expect(deciding(counted("clears"), designed("clears"))).toBe(25);
  expect(deciding(counted("open"), designed("noted"))).toBe(25);
});
