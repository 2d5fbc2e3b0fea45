import { expect, it } from "vitest";
import { failureNotes } from "../../src/findings/failure-notes.js";

const figure = (why: string | null) => ({ value: null, low: null, high: null, count: 0, unit: "share", why });

it("tells of a signal that could not be scored, because what is missing of its subject looks like a clean record", () => {
  const notes = failureNotes([
    { signal: "overhead", subject: "bay-1", agreement: figure("the signal could not be scored: steps out of order") },
    { signal: "wall", subject: "bay-1", agreement: figure("no reference without it") },
    { signal: "rail", subject: "door", agreement: figure(null) },
  ]);
  expect(notes).toEqual(["overhead: the signal could not be scored: steps out of order. Episodes, phantoms, disagreements and changes of bay-1 are incomplete. This is a fault of the program; please report it."]);
});
