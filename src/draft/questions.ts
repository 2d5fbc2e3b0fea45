/** What the person answered so far, by the question's id. */
export type Answers = ReadonlyMap<string, string>;

/** An answer to choose, and how it reads. */
export interface DraftChoice {
  readonly answer: string;
  readonly says: string;
}

/** One thing that the exports do not tell, as it is put to the person. */
export interface DraftQuestion {
  /** The same for the same exports, so that an answer can be found again. */
  readonly id: string;
  readonly text: string;
  readonly choices: readonly DraftChoice[];
  /** What may be typed in instead, such as `a time zone`; null: only the choices. */
  readonly typed: { readonly expected: string; readonly fits: (text: string) => boolean } | null;
  /**
   * `blocks`: the site file does not load without an answer. `stands in`: the likeliest answer stands in the file meanwhile.
   * `offer`: nothing is missing without one, and the file does not speak of it.
   */
  readonly weight: "blocks" | "stands in" | "offer";
}

/** A question that only the file can be answered in: nothing to choose. */
export function plainQuestion(text: string, weight: DraftQuestion["weight"] = "stands in"): DraftQuestion {
  return { id: text, text, choices: [], typed: null, weight };
}

/** Choices that read as what they answer. */
export function choicesOf(answers: readonly string[]): DraftChoice[] {
  return answers.map((answer) => ({ answer, says: answer }));
}

/** Whether a question can be put at a terminal. */
export function canBeAsked({ choices, typed }: DraftQuestion): boolean {
  return choices.length > 0 || typed !== null;
}
