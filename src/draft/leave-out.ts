import { watchesQuestion } from "./classing.js";
import type { LeftOut } from "./found.js";
import type { Answers, DraftQuestion } from "./questions.js";

/** More signals are not named in the question. */
const MOST_NAMED = 12;

/** Whether what is of nothing that a site file knows may be left out; where each is to be looked at, a question a signal. */
export function leaveOutQuestions(leftOut: readonly LeftOut[], answers: Answers): DraftQuestion[] {
  const guessed = leftOut.filter(({ signal }) => answers.get(`watches:${signal.id}`) === undefined);
  if (guessed.length === 0) return [];
  const names = guessed.slice(0, MOST_NAMED).map(({ signal }) => signal.name);
  const listed = `${names.join(", ")}${guessed.length > MOST_NAMED ? `, and ${guessed.length - MOST_NAMED} more` : ""}`;
  const count = guessed.length === 1 ? "1 sensor seems" : `${guessed.length} sensors seem`;
  const all: DraftQuestion = {
    id: "leave-out",
    text: `${count} to say nothing about a bay, a door or a person: ${listed}. Leave ${guessed.length === 1 ? "it" : "them"} out?`,
    choices: [
      { answer: "all", says: "Yes, leave out" },
      { answer: "each", says: "No: ask me about each" },
    ],
    typed: null,
    weight: "offer",
  };
  if (answers.get("leave-out") !== "each") return [all];
  return [all, ...guessed.map(({ signal, why }) => watchesQuestion(signal, `what does it watch? It was left out: ${why}`, "offer"))];
}
