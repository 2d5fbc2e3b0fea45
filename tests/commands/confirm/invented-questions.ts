import type { Question } from "../../../src/result/questions.js";

const at = (text: string): number => Date.parse(text);
const row = (subject: string, state: string, from: string, to: string) => ({ subject, state, from: at(from), to: at(to) });
const asked = { days: [], again: false, rules: ["unlock on arrival"], moments: [] };

/** Did Ida come home? An event of one evening. */
export const idaCame: Question = {
  ...asked,
  id: "ida-came",
  sort: "event",
  text: "Did Ida come home about 17:00 on Tuesday 2 June?",
  answers: [
    { says: "Yes", rows: [row("ida", "away", "2026-06-02T15:30:00Z", "2026-06-02T15:55:00Z"), row("ida", "here", "2026-06-02T16:10:00Z", "2026-06-02T16:40:00Z")] },
    { says: "No", rows: [row("ida", "away", "2026-06-02T15:30:00Z", "2026-06-02T16:40:00Z")] },
  ],
  about: [{ subject: "ida", from: at("2026-06-02T15:30:00Z"), to: at("2026-06-02T16:40:00Z") }],
  around: { from: at("2026-06-02T15:00:00Z"), to: at("2026-06-02T18:00:00Z") },
};

/** Was Ida home at night? A routine of three nights. */
export const nights: Question = {
  ...asked,
  id: "nights",
  sort: "routine",
  text: "Was Ida at home every night from 23:00 to 06:00?",
  answers: [
    { says: "Yes", rows: [1, 2, 3].map((day) => row("ida", "here", `2026-06-0${day}T22:00:00Z`, `2026-06-0${day + 1}T05:00:00Z`)) },
    { says: "No, most nights were different", rows: [1, 2, 3].map((day) => row("ida", "", `2026-06-0${day}T22:00:00Z`, `2026-06-0${day + 1}T05:00:00Z`)) },
  ],
  days: [1, 2, 3].map((day) => ({ says: `the night of ${day} June`, from: at(`2026-06-0${day}T22:00:00Z`), to: at(`2026-06-0${day + 1}T05:00:00Z`) })),
  about: [1, 2, 3].map((day) => ({ subject: "ida", from: at(`2026-06-0${day}T22:00:00Z`), to: at(`2026-06-0${day + 1}T05:00:00Z`) })),
  around: { from: at("2026-06-01T22:00:00Z"), to: at("2026-06-04T05:00:00Z") },
};

/** Whose vehicle was it? */
export const whose: Question = {
  ...asked,
  id: "whose",
  sort: "vehicle",
  text: "Was a vehicle in the bay on Wednesday 3 June, 08:30 to 15:20?",
  answers: [
    { says: "Yes", rows: [row("bay", "occupied", "2026-06-03T07:30:00Z", "2026-06-03T14:20:00Z")] },
    { says: "No", rows: [row("bay", "empty", "2026-06-03T07:30:00Z", "2026-06-03T14:20:00Z")] },
  ],
  about: [{ subject: "bay", from: at("2026-06-03T07:30:00Z"), to: at("2026-06-03T14:20:00Z") }],
  around: { from: at("2026-06-03T07:00:00Z"), to: at("2026-06-03T15:00:00Z") },
};
