import { countInWords, numberText } from "../judge/rule/words.js";
import type { Undecided } from "../result/findings.js";
import { diaryText } from "./steps.js";

/** The answer in two or three short sentences: what to turn on, what to take off the list, what to do meanwhile. */
export function headlineOf({ rules, questions, mend, diary }: Pick<Undecided, "rules" | "questions" | "mend" | "diary">): string {
  if (rules.length === 0) return "There is no rule to decide on. See which sensors to mend.";
  const of = (verdict: (typeof rules)[number]["verdict"]): string[] => rules.filter((one) => one.verdict === verdict).map(({ name }) => name);
  const [clear, open, refused] = [of("clear to enable"), of("not proven yet"), of("do not enable")];
  return [onText(clear, open, rules.length), offText(refused, rules.length), ...meanwhile(open, questions.settling, mend, diaryText({ diary }))].filter((one) => one !== "").join(" ");
}

function onText(clear: readonly string[], open: readonly string[], all: number): string {
  const [only] = clear;
  if (only === undefined) return all === 1 ? (open.length === 1 ? "Do not turn it on yet." : "Do not turn it on.") : open.length > 0 ? "Turn none on yet." : "Turn none on.";
  if (clear.length === all) return all === 1 ? "You can turn it on." : `You can turn ${all === 2 ? "both" : `all ${numberText(all)}`} on.`;
  return clear.length === 1 ? `You can turn on “${only}”.` : `You can turn ${numberText(clear.length)} on.`;
}

function offText(refused: readonly string[], all: number): string {
  if (refused.length === 0) return "";
  return all === 1 ? "Take it off the list." : refused.length === all ? `Take ${all === 2 ? "both" : `all ${numberText(all)}`} off the list.` : `Take ${numberText(refused.length)} off the list.`;
}

/** What brings an open rule on, or else what keeps the others well. */
function meanwhile(open: readonly string[], { count, waiting }: Undecided["questions"]["settling"], mend: Undecided["mend"], diary: string): string[] {
  const [first] = mend;
  if (count > 0 && open.length > 0) return [`Answer ${countInWords(count, "question", "questions", waiting)}.`];
  if (open.length > 0) return [...(first?.rules.some(({ rule }) => open.includes(rule)) === true ? [first.text] : []), diary];
  return first === undefined ? [] : [first.text];
}
