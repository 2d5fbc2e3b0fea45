import { DateTime } from "luxon";
import { zoneOf } from "../ground/zone.js";
import { csvText } from "../ground/csv-text.js";
import type { Findings } from "./findings.js";
import type { Question } from "./questions.js";
import { isoText } from "./values.js";

/** What of the findings the file is made from. */
export type ToFillIn = { readonly site: Pick<Findings["site"], "timeZone">; readonly questions: Pick<Findings["questions"], "list"> };

const columns = ["subject", "state", "from", "to", "words", "question"] as const;

/**
 * to-confirm.csv: the questions as rows of a diary with nothing in `state`, in the order of the questions. Whoever
 * remembers writes one of `words` there and names the file under `diary` in the site file; rows left blank say nothing.
 * Times are local, with their offset; they may be corrected.
 */
export function toConfirmCsv(findings: ToFillIn): string {
  const local = (instant: number): string => DateTime.fromMillis(instant, { zone: zoneOf(findings.site.timeZone) }).toISO() ?? isoText(instant);
  const rows = findings.questions.list.flatMap((question) => rowsToFillIn(question).map((row) => ({ ...row, text: question.text })));
  return csvText(columns, rows.map(({ subject, from, to, words, text }) => [subject, "", local(from), local(to), words.join(" or "), text]));
}

/** The rows that some answer writes, cut wherever one of them begins or ends, each with the words that answers put there. */
function rowsToFillIn({ answers, about }: Question): { readonly subject: string; readonly from: number; readonly to: number; readonly words: readonly string[] }[] {
  const written = answers.flatMap(({ rows }) => rows).filter(({ state }) => state !== "");
  const subjects = [...new Set(about.map(({ subject }) => subject))];
  return subjects.flatMap((subject) => {
    const own = written.filter((row) => row.subject === subject);
    const cuts = [...new Set(own.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b);
    return cuts.flatMap((from, i) => {
      const to = cuts[i + 1];
      const words = to === undefined ? [] : [...new Set(own.filter((row) => row.from <= from && row.to >= to).map(({ state }) => state))];
      return to === undefined || words.length === 0 ? [] : [{ subject, from, to, words }];
    });
  });
}
