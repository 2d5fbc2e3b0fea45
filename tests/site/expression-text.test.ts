import { describe, expect, it } from "vitest";
import type { Expression } from "../../src/site/expression.js";
import { expressionRefs } from "../../src/site/expression-refs.js";
import { expressionText, type WordedSite } from "../../src/site/expression-text.js";
import type { SignalSpec } from "../../src/site/site.js";

const signal = (id: string, subject: string): SignalSpec => ({
  id, subject, source: "log", kind: "flag", channel: id, reading: { form: "words", on: ["1"], off: ["0"] }, band: null, settleMs: 0, expectMs: null, shares: [], model: null,
});
const site: WordedSite = {
  subjects: [{ id: "bay-1", class: "bay", vehicle: null }, { id: "gate", class: "door", vehicle: null }, { id: "mira", class: "person", vehicle: null }],
  signals: [signal("overhead", "bay-1"), signal("rail", "gate"), signal("phone", "mira")],
};
const is = (ref: string, state: 0 | 1, more: { heldMs?: number; recentlyMs?: number } = {}): Expression => ({ op: "is", ref, state, heldMs: null, recentlyMs: null, ...more });
const turned = (ref: string, to: 0 | 1, withinMs: number): Expression => ({ op: "turned", ref, to, withinMs });

describe("expressionText", () => {
  it.each<[string, Expression]>([
    ["overhead is occupied", is("overhead", 1)],
    ["rail is closed", is("rail", 0)],
    ["phone has been away for 5 min", is("phone", 0, { heldMs: 300_000 })],
    ["rail was open within the last 30 s", is("rail", 1, { recentlyMs: 30_000 })],
    ["mira turned here within 15 min", turned("mira", 1, 900_000)],
    ["overhead turned occupied within 2 min and rail is open", { op: "all", of: [turned("overhead", 1, 120_000), is("rail", 1)] }],
    ["(overhead is occupied or rail is open) and phone is here", { op: "all", of: [{ op: "any", of: [is("overhead", 1), is("rail", 1)] }, is("phone", 1)] }],
    ["(overhead is empty and rail is closed) or phone is away", { op: "any", of: [{ op: "all", of: [is("overhead", 0), is("rail", 0)] }, is("phone", 0)] }],
    ["at least 2 of (overhead is occupied; rail is open; not (phone is away))", { op: "atLeast", count: 2, of: [is("overhead", 1), is("rail", 1), { op: "not", of: is("phone", 0) }] }],
    ["nobody-knows-it is on", is("nobody-knows-it", 1)],
  ])("says %j", (text, expression) => expect(expressionText(expression, site)).toBe(text));
});

describe("expressionRefs", () => {
  it("names each ref once, in order", () => {
    const expression: Expression = { op: "any", of: [is("rail", 1), { op: "not", of: turned("phone", 1, 1) }, { op: "atLeast", count: 1, of: [is("rail", 0), { op: "all", of: [is("Z", 1)] }] }] };
    expect(expressionRefs(expression)).toEqual(["Z", "phone", "rail"]);
  });
});
