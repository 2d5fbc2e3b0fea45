import { isCancel, select, text } from "@clack/prompts";
import type { DraftQuestion } from "../../draft/questions.js";
import { oneLine } from "../one-line.js";
import type { Terminal } from "../surroundings.js";
import type { DraftAsker, Reply } from "./ask.js";

/**
 * Asks at a terminal, one question after the other. Where the site file would load without an answer the mark stands on the likeliest
 * one, else on "Later": who presses Enter too early has then decided nothing. Ctrl-C stops asking; what was answered is kept.
 */
export function askDraftAtTerminal(terminal: Terminal): DraftAsker {
  return {
    begin(table) {
      terminal.output.write(`\n${table}\n\nA few questions that the exports do not answer. Arrow keys and Enter choose; Ctrl-C leaves the rest for the file.\n\n`);
    },
    async ask(question, number, of) {
      const message = oneLine(`${number} of ${of}: ${question.text}`);
      if (question.choices.length === 0) return typed(terminal, question, message);
      const later = question.weight === "blocks" ? "Later: I shall write it into the file" : "Later: leave it as it is";
      const picked = await select<number | "other" | "later">({
        ...terminal,
        message,
        options: [
          ...question.choices.map(({ says }, value) => ({ value, label: oneLine(says) })),
          ...(question.typed === null ? [] : [{ value: "other" as const, label: `Something else: ${question.typed.expected}` }]),
          { value: "later" as const, label: later },
        ],
        initialValue: question.weight === "blocks" ? "later" : 0,
        showInstructions: false,
      });
      if (isCancel(picked)) return { does: "stop" };
      if (picked === "other") return typed(terminal, question, message);
      const choice = picked === "later" ? undefined : question.choices[picked];
      return choice === undefined ? { does: "later" } : { does: "answer", answer: choice.answer };
    },
  };
}

/** What is typed in, once it can be used; nothing: later. */
async function typed(terminal: Terminal, question: DraftQuestion, message: string): Promise<Reply> {
  const written = await text({
    ...terminal,
    message: `${message} (${question.typed?.expected ?? ""}; nothing: later)`,
    validate: (value) => {
      const answer = (value ?? "").trim();
      return answer === "" || question.typed?.fits(answer) === true ? undefined : `This is not ${question.typed?.expected ?? "an answer"}.`;
    },
  });
  if (isCancel(written)) return { does: "stop" };
  const answer = (written as string | undefined)?.trim() ?? "";
  return answer === "" ? { does: "later" } : { does: "answer", answer };
}
