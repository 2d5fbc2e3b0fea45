import type { SiteDraft } from "../../draft/draft-site.js";
import { canBeAsked, type DraftQuestion } from "../../draft/questions.js";

/** Whoever answers the questions of a draft. */
export interface DraftAsker {
  /** Shown once, before the first question. */
  readonly begin: (table: string) => void;
  readonly ask: (question: DraftQuestion, number: number, of: number) => Promise<Reply>;
}

/** What a person says to a question. `later`: it stays open in the file; `stop`: so do all that follow. */
export type Reply = { readonly does: "answer"; readonly answer: string } | { readonly does: "later" | "stop" };

/**
 * Puts the open questions one by one. Answers may settle others or raise new ones, so the exports are drafted from anew after each
 * round, until nothing is left to ask.
 */
export async function askOpen(
  first: SiteDraft,
  draftWith: (answers: ReadonlyMap<string, string>) => SiteDraft,
  asker: DraftAsker,
  tableOf: (draft: SiteDraft) => string,
): Promise<SiteDraft> {
  const answers = new Map<string, string>();
  const put = new Set<string>();
  let draft = first;
  let hasBegun = false;
  for (;;) {
    const round = draft.questions.filter((question) => canBeAsked(question) && !put.has(question.id));
    if (round.length === 0) return draft;
    if (!hasBegun) asker.begin(tableOf(draft));
    hasBegun = true;
    for (const question of round) {
      const reply = await asker.ask(question, put.size + 1, put.size + round.filter(({ id }) => !put.has(id)).length);
      if (reply.does === "stop") return answers.size === 0 ? draft : draftWith(answers);
      put.add(question.id);
      if (reply.does === "answer") answers.set(question.id, reply.answer);
    }
    draft = draftWith(answers);
  }
}
