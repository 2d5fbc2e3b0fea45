import type { HomeKind } from "./life.js";

const plain: HomeKind = { id: "one person", residents: 1, stirs: "nobody else", unwatched: 0, outages: 0, nights: false, phone: false, taps: false };

/** The homes of the study. */
export const homeKinds: readonly HomeKind[] = [
  plain,
  { ...plain, id: "two people", residents: 2 },
  { ...plain, id: "three people", residents: 3 },
  { ...plain, id: "one person who works nights", nights: true },
  { ...plain, id: "two people, a robot cleans every morning", residents: 2, stirs: "robot" },
  { ...plain, id: "one person and a cat", stirs: "cat" },
  { ...plain, id: "two people, one way in ten by an unwatched door", residents: 2, unwatched: 0.1 },
  { ...plain, id: "two people, the hub down three times a month", residents: 2, outages: 3 },
  { ...plain, id: "one person, taps and switches only", taps: true },
  { ...plain, id: "one person with a phone that is late", phone: true },
];
