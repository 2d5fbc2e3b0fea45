import { describe, expect, test } from "vitest";
import { basisAround } from "../../../src/truth/episodes/charging.js";
import { findEpisodes } from "../../../src/truth/episodes/find.js";
import type { ReferenceBook } from "../../../src/truth/reference/reference.js";
import { accountOf, accountsOf, bookOf, MINUTE, minutes, referenceOf, signal, siteWith, subject } from "./small-site.js";

const period = { from: 0, to: 1000 * MINUTE };
const site = siteWith(
  [subject("bay-1", "bay"), subject("yard-door", "door"), subject("mira", "person")],
  [signal("overhead", "bay-1"), signal("wall", "bay-1"), signal("rail", "yard-door"), signal("phone", "mira")],
);
const truth = {
  "bay-1": minutes(1000, [[0, 0], [200, 1], [600, 0]]),
  "yard-door": minutes(1000, [[0, 0], [201, 1], [203, 0], [400, 1], [401, 0]]),
  mira: minutes(1000, [[0, 0], [198, 1], [602, 0]]),
};
const accounts = accountsOf(
  accountOf("overhead", truth["bay-1"]),
  accountOf("wall", minutes(1000, [[0, 0], [80, 1], [90, 0], [203, 1], [600, 0]])),
  accountOf("rail", minutes(1000, [[0, 0], [201, 1], [203, 0]])),
  accountOf("phone", minutes(1000, [[0, 2]])),
);

describe("findEpisodes", () => {
  test("tells the day: one arrival, one departure, and what every signal made of them", () => {
    const { episodes, phantoms } = findEpisodes(site, accounts, bookOf(truth), period);
    expect(episodes).toEqual([
      {
        id: "A001", kind: "arrival", anchor: 200 * MINUTE, anchorSubject: "bay-1", from: 198 * MINUTE, to: 203 * MINUTE,
        subjects: ["mira", "bay-1", "yard-door"], basis: "several",
        participants: [
          { signal: "phone", subject: "mira", outcome: "unknown", lagSeconds: null },
          { signal: "overhead", subject: "bay-1", outcome: "agreed", lagSeconds: 0 },
          { signal: "wall", subject: "bay-1", outcome: "late", lagSeconds: 180 },
          { signal: "rail", subject: "yard-door", outcome: "agreed", lagSeconds: 0 },
        ],
      },
      {
        id: "D001", kind: "departure", anchor: 600 * MINUTE, anchorSubject: "bay-1", from: 600 * MINUTE, to: 602 * MINUTE,
        subjects: ["bay-1", "mira"], basis: "several",
        participants: [
          { signal: "overhead", subject: "bay-1", outcome: "agreed", lagSeconds: 0 },
          { signal: "wall", subject: "bay-1", outcome: "agreed", lagSeconds: 0 },
          { signal: "phone", subject: "mira", outcome: "unknown", lagSeconds: null },
        ],
      },
    ]);
    expect(phantoms).toEqual([{ signal: "wall", subject: "bay-1", said: "on", from: 80 * MINUTE, to: 90 * MINUTE }]);
  });

  test("a false arrival that only the signal's own vote made an episode stays a phantom", () => {
    const believed = minutes(1000, [[0, 0], [80, 1], [90, 0], [200, 1], [600, 0]]);
    const book: ReferenceBook = (about, excluding) =>
      about === "bay-1" && !excluding.includes("wall") ? referenceOf(about, believed, excluding, "one", ["wall"]) : referenceOf(about, truth[about as keyof typeof truth], excluding);
    const { episodes, phantoms } = findEpisodes(site, accounts, book, period);
    expect(episodes.map((one) => `${one.id} ${one.anchor / MINUTE} ${one.basis}`)).toContain("A001 80 one");
    expect(phantoms.filter((one) => one.signal === "wall")).toEqual([{ signal: "wall", subject: "bay-1", said: "on", from: 80 * MINUTE, to: 90 * MINUTE }]);
  });

  test("two witnesses of which one lags three minutes still make an arrival, somewhere in those minutes", () => {
    const disputed = minutes(1000, [[0, 0], [200, 2], [203, 1], [600, 0]]);
    const { episodes } = findEpisodes(site, accounts, bookOf({ "bay-1": disputed, "yard-door": minutes(1000, []), mira: minutes(1000, []) }), period);
    expect(episodes[0]).toMatchObject({ id: "A001", from: 200 * MINUTE, anchor: 203 * MINUTE, basis: "several" });
    // Overhead turned at 200 and wall at 203: neither is late beyond doubt, the middle of the gap is told.
    expect(episodes[0]!.participants.map((one) => `${one.signal} ${one.outcome} ${one.lagSeconds}`)).toEqual(["overhead agreed -90", "wall agreed 90"]);
  });

  test("a subject of which nothing is known has neither, and does not stop the others", () => {
    const unknown = minutes(1000, []);
    const { episodes, phantoms } = findEpisodes(site, accounts, bookOf({ mira: truth.mira, "bay-1": unknown, "yard-door": unknown }), period);
    expect(episodes.map((one) => one.anchorSubject)).toEqual(["mira", "mira"]);
    expect(phantoms).toEqual([]);
  });

  test.each([
    ["with every witness", []],
    ["without the signal", ["rail"]],
  ])("a fault of the program in the reference %s is passed on", (_, left) => {
    const book: ReferenceBook = (about, excluding) => {
      if (about === "yard-door" && excluding.join() === left.join()) throw new TypeError("a slip");
      return bookOf(truth)(about, excluding);
    };
    expect(() => findEpisodes(site, accounts, book, period)).toThrow(new TypeError("a slip"));
  });
});

test("the basis of an episode is the weaker one of the two sides of its anchor", () => {
  const reference = referenceOf("bay-1", truth["bay-1"]);
  const [before, during] = reference.segments;
  const mixed = { ...reference, segments: [{ ...before!, basis: "one" as const }, { ...during!, basis: "diary" as const }] };
  expect(basisAround(mixed, { at: 200 * MINUTE, earliest: 200 * MINUTE })).toBe("one");
  expect(basisAround(reference, { at: 200 * MINUTE, earliest: 200 * MINUTE })).toBe("several");
  expect(basisAround(undefined, { at: 0, earliest: 0 })).toBe("none");
});
