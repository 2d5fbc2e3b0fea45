import { DateTime } from "luxon";
import { csvText } from "./csv-text.js";
import type { Findings } from "./schema.js";
import { isoText } from "./values.js";

/** What of the findings the file is made from. */
export type ToFillIn = { readonly site: Pick<Findings["site"], "timeZone">; readonly toConfirm: Pick<Findings["toConfirm"], "rows"> };

const columns = ["subject", "state", "from", "to", "words", "moves"] as const;

/**
 * to-confirm.csv: rows of a diary with nothing in `state`, most moving first. Whoever remembers writes one of `words` there and names the
 * file under `diary` in the site file; rows left blank say nothing. Times are local, with their offset; they may be corrected.
 */
export function toConfirmCsv(findings: ToFillIn): string {
  const local = (instant: number): string => DateTime.fromMillis(instant, { zone: findings.site.timeZone }).toISO({ suppressMilliseconds: true }) ?? isoText(instant);
  return csvText(columns, findings.toConfirm.rows.map(({ subject, from, to, words, moves }) => [subject, "", local(from), local(to), words.join(" or "), moves]));
}
