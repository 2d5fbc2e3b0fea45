import type { Findings } from "../../result/findings.js";
import type { Questions } from "../../result/questions.js";

/** The questions of an audit. */
export function questionsOf(findings: Findings & { readonly questions?: Questions }): Questions {
  return findings.questions ?? { list: [], rules: [], diaryEnds: null };
}
