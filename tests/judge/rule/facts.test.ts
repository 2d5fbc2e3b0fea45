import { describe, expect, it } from "vitest";
import { factsWithout, vouchedTimeline, vouchersOf } from "../../../src/judge/rule/facts.js";
import type { Atom } from "../../../src/judge/rule/deciding-atoms.js";
import type { ReferenceBook, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import { allOf, bookOf, day, is, line, min, turned } from "../small-site.js";

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
const facts = factsWithout([], is("mira", 1), book, 0);
const tellers = (atom: unknown, minute: number): string[] => vouchersOf([atom as Atom], facts, min(minute));

describe("the facts a firing is held against", () => {
  it("are unknown where nobody vouches, whatever seems likeliest", () => {
    expect(vouchedTimeline(book("mira", []))).toEqual(line("0 ?, 50 off, 100 on, 110 off"));
    expect(facts.truth).toEqual(line("0 ?, 50 off, 100 on, 110 off"));
  });

  it("leave out the signals they are asked to leave out", () => {
    const asked: (readonly string[])[] = [];
    const watching: ReferenceBook = (subject, excluding) => {
      asked.push(excluding);
      return bookOf({ mira: { truth: "0 on" }, tom: { truth: "0 on" } }, day)(subject, excluding);
    };
    const left = factsWithout(["phone-mira"], allOf(is("mira", 1), is("tom", 1)), watching, 0);
    expect(asked).toEqual([["phone-mira"], ["phone-mira"]]);
    expect([...left.references.keys()]).toEqual(["mira", "tom"]);
    expect(left.truth).toEqual(line("0 ?"));
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
});
