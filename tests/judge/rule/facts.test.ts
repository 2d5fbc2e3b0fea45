import { describe, expect, it } from "vitest";
import { confirmedTimeline, vouchersOf, witnessesOf, type Witnesses } from "../../../src/judge/rule/facts.js";
import type { Atom } from "../../../src/judge/rule/condition.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import { causeGroups } from "../../../src/site/cause-groups.js";
import type { ReferenceBook, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import type { Expression } from "../../../src/site/expression.js";
import { allOf, bookOf, day, is, line, min, ruleOf, siteOf, turned } from "../small-site.js";

const segment = (from: number, to: number, state: 0 | 1 | 2, basis: ReferenceSegment["basis"], vouchers: readonly string[]): ReferenceSegment => ({
  from: min(from),
  to: min(to),
  state,
  probability: 0.9,
  basis,
  vouchers,
});

const book: ReferenceBook = (subject, excluding) => ({
  subject,
  excluding,
  timeline: line("0 off, 100 on"),
  segments: [
    segment(0, 50, 0, "none", []),
    segment(50, 100, 0, "one", ["watch"]),
    segment(100, 110, 1, "diary", ["watch"]),
    segment(110, 24 * 60, 0, "several", ["watch", "scale"]),
  ],
});
const site = siteOf({
  subjects: { mira: "person", tom: "person" },
  signals: { "phone-mira": "mira", "watch-mira": "mira", lamp: "tom" },
  shares: { "phone-mira": ["hub"], "watch-mira": ["hub"] },
});
const groups = causeGroups(site.signals);
const witnesses = (rightWhen: Expression, told: ReferenceBook): Witnesses => witnessesOf(prepareRule(site, ruleOf(is("phone-mira", 1), rightWhen)), { book: told, groups });
const facts = witnesses(is("mira", 1), book).full;
const tellers = (atom: unknown, minute: number): string[] => vouchersOf([atom as Atom], facts, min(minute));

describe("the facts a firing is held against", () => {
  it("are unknown where nobody vouches, whatever seems likeliest", () => {
    expect(confirmedTimeline(book("mira", []))).toEqual(line("0 ?, 50 off, 100 on, 110 off"));
    expect(facts.truth).toEqual(line("0 ?, 50 off, 100 on, 110 off"));
  });

  it("outside leave out the rule's own signals and whatever shares a cause with one of them", () => {
    const asked: (readonly string[])[] = [];
    const watching: ReferenceBook = (subject, excluding) => {
      asked.push(excluding);
      return bookOf({ mira: { truth: "0 on" }, tom: { truth: "0 on" } }, day)(subject, excluding);
    };
    const { outside, support, full } = witnesses(allOf(is("mira", 1), is("tom", 1)), watching);
    const connected = ["phone-mira", "watch-mira"];
    expect(asked).toEqual([connected, connected, connected, connected, [], []]);
    expect([...outside.references.keys()]).toEqual(["mira", "tom"]);
    expect([outside.truth, support.truth, full.truth]).toEqual([line("0 ?"), line("0 ?"), line("0 on")]);
  });

  it("take two independent witnesses or the diary to be verified, and anybody to be supported", () => {
    const { outside, support } = witnesses(is("mira", 1), book);
    expect(outside.truth).toEqual(line("0 ?, 100 on, 110 off"));
    expect(support.truth).toEqual(line("0 ?, 50 off, 100 on, 110 off"));
  });

  it("name who tells, the diary by its own word, nobody where nobody does", () => {
    expect(tellers(is("mira", 0), 60)).toEqual(["watch"]);
    expect(tellers(is("mira", 1), 105)).toEqual(["diary", "watch"]);
    expect(tellers(is("mira", 0), 10)).toEqual([]);
  });

  it("rest a turn on the stretch it led to, while the window reaches it", () => {
    expect(tellers(turned("mira", 1, 20), 120)).toEqual(["diary", "watch"]);
    expect(tellers(turned("mira", 1, 5), 120)).toEqual(["scale", "watch"]);
  });

  it("rest a state on the stretch that begins at that very instant, and a turn on none that ended as the window began", () => {
    expect(tellers(is("mira", 1), 100)).toEqual(["diary", "watch"]);
    expect(tellers(is("mira", 1, { recentlyMs: min(10) }), 119)).toEqual(["diary", "watch"]);
    expect(tellers(is("mira", 1, { recentlyMs: min(10) }), 120)).toEqual(["scale", "watch"]);
  });
});
