import { isCancel, multiselect, select } from "@clack/prompts";
import { oneLine } from "../one-line.js";
import type { Terminal } from "../surroundings.js";
import type { Asker, Choice, Screen } from "./ask.js";

/** Clears the screen and puts the cursor at its top. */
const CLEAR = "\u001b[2J\u001b[H";

const others = {
  "don't know": "I don't know",
  skip: "Skip, ask me another time",
  sensors: "Show what the sensors said",
  undo: "Undo my last answer",
  quit: "Stop here",
} as const;
type Other = keyof typeof others;

/**
 * Asks at a terminal, one question a screen. The mark stands on "Skip" at first: who presses Enter too early has answered
 * nothing, and no answer stands out. Ctrl-C stops, as "Stop here" does.
 */
export function askAtTerminal(terminal: Terminal): Asker {
  return {
    async ask(screen) {
      const { question, answered, sensors } = screen;
      terminal.output.write(`${CLEAR}${headText(screen)}\n${sensors === null ? "" : `\n${sensors}\n`}\n`);
      const further: readonly Other[] = ["don't know", "skip", ...(sensors === null ? (["sensors"] as const) : []), ...(answered > 0 ? (["undo"] as const) : []), "quit"];
      const picked = await select<number | Other>({
        ...terminal,
        message: oneLine(question.text),
        options: [...question.answers.map(({ says }, value) => ({ value, label: oneLine(says) })), ...further.map((value) => ({ value, label: others[value] }))],
        initialValue: "skip",
        showInstructions: false,
      });
      return isCancel(picked) ? { does: "quit" } : choiceOf(screen, picked);
    },
    async exceptions({ text, days }) {
      terminal.output.write(`${CLEAR}${oneLine(text)}\n\n`);
      const picked = await multiselect({
        ...terminal,
        message: "On which of these was it not so? Space marks one, Enter goes on; mark none if it was always so.",
        options: days.map((day, value) => ({ value, label: oneLine(day.says) })),
        required: false,
        showInstructions: false,
      });
      return isCancel(picked) ? null : days.filter((_, place) => picked.includes(place));
    },
    async end() {
      terminal.output.write(CLEAR);
      const picked = await select({ ...terminal, message: "That was the last question.", options: [{ value: "done", label: "Finish" }, { value: "undo", label: others.undo }], showInstructions: false });
      return picked === "undo" ? "undo" : "done";
    },
  };
}

function headText({ question, number, of, answered }: Screen): string {
  const count = `Question ${number} of ${of}${answered === 0 ? "" : `, ${answered} answered`}. Arrow keys and Enter choose.`;
  return question.again ? `${count}\nThis one comes twice. Please think about it once more.` : count;
}

function choiceOf({ question }: Screen, picked: number | Other): Choice {
  if (typeof picked !== "number") return { does: picked };
  const answer = question.answers[picked];
  return answer === undefined ? { does: "skip" } : { does: "answer", answer };
}
