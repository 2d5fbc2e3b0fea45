import { numberText } from "../../judge/rule/words.js";
import type { Questions } from "../../result/questions.js";

/** A line that says which questions are enough for a verdict; empty where all or none are. */
export function shortestWay({ list, settling: { count, waiting } }: Pick<Questions, "settling"> & { readonly list: readonly unknown[] }): string {
  const first = count - waiting;
  if (first < 1 || first >= list.length) return "";
  return `The shortest way to a verdict is the first ${first === 1 ? "question" : `${numberText(first)} questions`}. The others can help too.\n`;
}
