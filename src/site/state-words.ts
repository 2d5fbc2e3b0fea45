import type { SignalSpec, Site, SubjectClass } from "./site.js";

/** The two states of a class of subjects, as the site file and the report say them. */
export interface StateWords {
  readonly on: string;
  readonly off: string;
}

/** What on and off mean for each class of subjects. */
export const stateWords: Readonly<Record<SubjectClass, StateWords>> = {
  bay: { on: "occupied", off: "empty" },
  door: { on: "open", off: "closed" },
  person: { on: "here", off: "away" },
};

/** What on and off mean for a signal that knows only one side: somebody stirs, or nothing is noticed. */
export const stirWords: StateWords = { on: "stirring", off: "still" };

/** How the two states of a signal, or of a subject, are called. */
export function wordsOfRef(ref: string, { signals, subjects }: Pick<Site, "subjects"> & { readonly signals: readonly WordedSignal[] }): StateWords {
  const signal = signals.find(({ id }) => id === ref);
  if (signal?.kind === "stir") return stirWords;
  const subject = subjects.find(({ id }) => id === (signal?.subject ?? ref));
  return subject === undefined ? plainWords : stateWords[subject.class];
}

/** What gives a signal's states their words. */
export type WordedSignal = Pick<SignalSpec, "id" | "subject" | "kind">;

/** Words for a signal without a known subject; a `flag` signal may use them beside its subject's own. */
export const plainWords: StateWords = { on: "on", off: "off" };

/** The state a word means, or null where the word is not among the given pairs. */
export function stateOfWord(word: string, pairs: readonly StateWords[]): 0 | 1 | null {
  for (const pair of pairs) {
    if (word === pair.on) return 1;
    if (word === pair.off) return 0;
  }
  return null;
}
