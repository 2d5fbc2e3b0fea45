import { daysFrom } from "./redact-days.js";
import { nameReplacer, replacements } from "./redact-names.js";
import { findingsSchema, type Findings } from "./schema.js";
import { withTexts } from "./visit-texts.js";

/** The zone of a redacted result: its times are the site's own, but where that is is not told. */
const NO_ZONE = "UTC";

/**
 * The findings without names, places and dates, for sharing with someone who helps. A pure function; the same findings
 * give the same result.
 *
 * Replaced, the same everywhere and within sentences too: the site, its zone, subjects, vehicles, signals, models, shared
 * causes, rules and their digests, sources, files. Dates become days of the period; all instants are moved by the same
 * whole days. Left out: the histories. Kept, and still telling: times of day and lengths, so the household's routine; counts; the words of the conditions.
 *
 * It goes by the schema: texts of a fixed list stay as they are, instants are moved, every other text is searched for
 * names and dates. Whatever is added to the findings is searched as well.
 */
export function redactFindings(findings: Findings): Findings {
  const rename = nameReplacer(replacements(findings));
  const days = daysFrom(findings.period.from, findings.site.timeZone, findings.period.to);
  const redacted = withTexts(findingsSchema, { ...findings, ledger: findings.ledger.map((row) => withinPeriod(row, findings.period)) }, { text: (text) => days.inText(rename(text)), instant: days.moved }) as Findings;
  return { ...redacted, redacted: true, histories: null, made: { ...redacted.made, by: findings.made.by }, site: { ...redacted.site, timeZone: NO_ZONE } };
}

/** A file's first and last reading, but none beyond the period: 1970, where a clock was not set, would tell all dates. */
function withinPeriod<Row extends Findings["ledger"][number]>(row: Row, { from, to }: Findings["period"]): Row {
  const within = (instant: number | null): number | null => (instant === null ? null : instant < from ? from : instant > to ? to : instant);
  return { ...row, first: within(row.first), last: within(row.last) };
}
