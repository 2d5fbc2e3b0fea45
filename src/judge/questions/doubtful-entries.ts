import { difference, intersection, union, type Interval } from "../../ground/intervals.js";
import { stateWords } from "../../site/state-words.js";
import type { Site } from "../../site/site.js";
import { TAKEN_BACK, type SubjectTime } from "../../intake/diary-corrections.js";
import type { DiaryEntry } from "../../intake/readings.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON } from "../../timeline/timeline.js";
import type { Draft } from "./event-questions.js";
import type { LocalWords } from "./local-words.js";

/**
 * The times in which all sensors of a person or a bay are known and deny what the diary says, for longer than the site's
 * `join`, which nobody was asked about twice. By subject, then time.
 */
export function doubtfulTimes(site: Site, accounts: ReadonlyMap<string, SignalAccount>, entries: readonly DiaryEntry[], twice: readonly SubjectTime[], period: Interval): (SubjectTime & { readonly state: 0 | 1 })[] {
  return site.subjects.flatMap(({ id, class: subjectClass }) => {
    const own = site.signals.flatMap((one) => (one.subject === id ? [accounts.get(one.id)?.account] : []));
    if (subjectClass === "door" || own.length === 0) return [];
    return ([OFF, ON] as const).flatMap((state) => {
      const denied = own.reduce<Interval[]>((left, one) => (one === undefined ? [] : intersection(left, stretches(one, state === ON ? OFF : ON))), [period]);
      const written = union(entries.filter((one) => one.subject === id && one.state === state));
      const settled = twice.filter((one) => one.subject === id);
      return intersection(denied, written)
        .filter(({ from, to }) => to - from > site.joinMs && difference([{ from, to }], settled).length > 0)
        .map((time) => ({ subject: id, state, ...time }));
    });
  });
}

/** Asks once more about what the diary says. Yes writes the same once more, so that it is settled; no takes it back. */
export function askedAgain({ subject, state, from, to }: SubjectTime & { readonly state: 0 | 1 }, site: Site, words: LocalWords): Draft {
  const isPerson = site.subjects.some((one) => one.id === subject && one.class === "person");
  const word = stateWords[isPerson ? "person" : "bay"][state === 1 ? "on" : "off"];
  const told = isPerson ? (state === 1 ? "at home" : "out") : word;
  const row = { subject, from, to };
  return {
    id: `again ${subject} ${words.stamp(from)}`,
    sort: isPerson ? "event" : "vehicle",
    wording: () => ({
      text: `Your diary says that ${subject} was ${told} on ${words.day(from)} from ${words.time(from)} to ${words.timeFrom(to, from)}. Is that so?`,
      answers: [
        { says: "Yes, it is so", rows: [{ ...row, state: word }] },
        { says: "No, or I am not sure any more", rows: [{ ...row, state: TAKEN_BACK }] },
      ],
    }),
    days: [],
    about: [row],
    around: { from, to },
    again: true,
    moved: true,
  };
}
