/** What one test found of a pair of signals: how likely chance alone would bring as much, and what to say of it. */
export interface PairFound {
  readonly how: "turns" | "errors" | "silences";
  readonly chance: number;
  /** A predicate with numbers, such as "went silent together 4 times". */
  readonly text: string;
}

/** Fewer coincidences than this are told of by no test: one or two may have a cause that never comes again. Our own choice. */
export const LEAST_TOGETHER = 3;
