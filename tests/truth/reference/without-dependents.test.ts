import { describe, expect, test } from "vitest";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import { usualLags } from "../../../src/compare/signals/usual-lags.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { withoutDependents } from "../../../src/truth/reference/without-dependents.js";
import { accountOf, accountsOf, MINUTE, minutes, signal, siteWith, subject, type MinuteSteps } from "../episodes/small-site.js";

const DAY = 1440;
const period = { from: 0, to: 30 * DAY * MINUTE };
/** A visit from nine to five on each of thirty days, told late by a number of minutes. */
const visits = (late: number) =>
  minutes(30 * DAY, [[0, 0], ...Array.from({ length: 30 }, (_, day) => day * DAY).flatMap((day): MinuteSteps => [[day + 540 + late, 1], [day + 1020 + late, 0]])]);
const copies = [["phone", "phone-again"]] as const;

/** Usual lag in minutes of a phone that is three minutes late, beside a copy of it and, where asked, a tag that is prompt. */
function lagOfPhone(withTag: boolean): number | null {
  const site = siteWith([subject("ada", "person")], [signal("phone", "ada"), signal("phone-again", "ada"), ...(withTag ? [signal("tag", "ada")] : [])]);
  const accounts = accountsOf(accountOf("phone", visits(3)), accountOf("phone-again", visits(3)), ...(withTag ? [accountOf("tag", visits(0))] : []));
  const book = makeReferenceBook(site, accounts, [], period, copies);
  const lag = usualLags(scoreSignals(site, accounts, book, period, withoutDependents(book, copies))).get("phone");
  return lag === undefined ? null : lag.mostMs / MINUTE;
}

describe("the delay of a signal that has a copy", () => {
  test("is measured behind the others, not behind the copy", () => {
    expect(lagOfPhone(true)).toBe(3);
  });

  test("is not known where only the copy tells the same", () => {
    expect(lagOfPhone(false)).toBeNull();
  });
});

describe("withoutDependents", () => {
  test("leaves out copies of copies too, and nothing else", () => {
    const asked: (readonly string[])[] = [];
    const book = withoutDependents((about, excluding) => {
      asked.push([...excluding].sort());
      return { subject: about, excluding, timeline: visits(0), segments: [] };
    }, [["a", "b"], ["b", "c"]]);
    book("ada", ["a"]);
    book("ada", ["d"]);
    book("ada", []);
    expect(asked).toEqual([["a", "b", "c"], ["d"], []]);
  });
});
