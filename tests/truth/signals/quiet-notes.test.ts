import { describe, expect, test } from "vitest";
import type { Quiet } from "../../../src/truth/signals/quiet.js";
import { quietNotes } from "../../../src/truth/signals/quiet-notes.js";
import { HOUR } from "./small-site.js";

const DAY = 24 * HOUR;

/** A quiet from one day to another. */
function quiet(what: Quiet["what"], fromDay: number, toDay: number, signals: readonly string[], usualMs = 10 * HOUR): Quiet {
  return { what, from: fromDay * DAY, to: toDay * DAY, signals, usualMs, noticedMs: 3 * usualMs };
}

/** How each note begins, up to the end of what was quiet. */
const beginnings = (...quiets: readonly Quiet[]) => quietNotes(quiets, "UTC").map((note) => /^.*?(?= was heard)/.exec(note)?.[0]);

const hub = { form: "cause", name: "hub" } as const;
const log = { form: "source", name: "log" } as const;

describe("notes on quiets", () => {
  test("name the cause, one signal of a source, or the whole site, in order of time", () => {
    expect(beginnings(quiet(log, 9, 11, ["a", "b"]), quiet(hub, 5, 7, ["c", "d"]), quiet({ form: "site" }, 1, 3, ["a", "b", "c", "d"]))).toEqual([
      "Nothing at all",
      "Nothing that depends on hub",
      "Nothing from the source that a is in",
    ]);
  });

  test("are left out where a wider group's quiet explains the greater part, or ends at the same time", () => {
    const wide = quiet({ form: "site" }, 4, 6, ["a", "b", "c"]);
    expect(beginnings(wide, quiet(hub, 3, 6, ["a", "b"]))).toEqual(["Nothing at all"]);
    expect(beginnings(wide, quiet(hub, 4, 7, ["a", "b"]))).toEqual(["Nothing at all"]);
    // However much longer the narrower one is, it ended with the wider one.
    expect(beginnings(wide, quiet(hub, 1, 6, ["a", "b"]))).toEqual(["Nothing at all"]);
  });

  test("are there where the wider one explains half or less, or other signals fell quiet too", () => {
    const wide = quiet({ form: "site" }, 4, 6, ["a", "b", "c"]);
    expect(beginnings(wide, quiet(hub, 4, 8, ["a", "b"]))).toEqual(["Nothing at all", "Nothing that depends on hub"]);
    expect(beginnings(wide, quiet(hub, 4, 6, ["a", "d"]))).toEqual(["Nothing at all", "Nothing that depends on hub"]);
  });

  test("say hours up to three days and days from then on, and an hour for what is usual at the least", () => {
    const [short, long] = quietNotes([quiet(hub, 0, 2, ["a", "b"], HOUR), quiet(hub, 10, 13, ["a", "b"], 80 * HOUR)], "UTC");
    expect(short).toContain("(48 h), though otherwise it was never quiet for longer than an hour. Was");
    expect(long).toContain("(3 days), though otherwise it was never quiet for longer than 3.3 days. Was");
  });

  test("name six signals, and the number of the rest of more", () => {
    const unknown = (...signals: string[]) => quietNotes([quiet(hub, 0, 2, signals)], "UTC")[0];
    expect(unknown("a", "b", "c", "d", "e", "f")).toContain("went unseen, and a, b, c, d, e, f are unknown for that time");
    expect(unknown("a", "b", "c", "d", "e", "f", "g")).toContain("went unseen, and a, b, c, d, e and 2 more signals are unknown for that time");
  });
});
