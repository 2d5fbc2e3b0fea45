/**
 * What the user states about the faults of a rule's parts: no history can show it. A part is a piece of the condition
 * that should not fail together with the others.
 */
export interface Stated {
  /**
   * At most this share (above 0, up to 1) of the rarer part's false reports also reaches the other part.
   * Null where nothing is stated: the default of whoever asks then holds.
   */
  readonly commonCause: { readonly atMostShare: number; readonly because: string } | null;
  /** The faults of the parts share no hour of the day. Null where that is not stated. */
  readonly noSharedHours: { readonly because: string } | null;
  /**
   * Signals of the rule that one event can move, to be taken as one part: two or more a list, each once.
   * Lists may overlap; what they connect is one part.
   */
  readonly oneParts: readonly (readonly string[])[];
}

/** What is stated by a rule that states nothing. */
export const nothingStated: Stated = { commonCause: null, noSharedHours: null, oneParts: [] };
