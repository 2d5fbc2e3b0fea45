import { desc, from, op, table, type ColumnTable } from "arquero";
import { csvText, type Cell } from "../ground/csv-text.js";
import type { Findings } from "./findings.js";
import { localDaysOf } from "./local-days.js";
import { isoText } from "./values.js";

const periodColumns = ["site", "period_from", "period_to"] as const;

const signalColumns = [
  ...periodColumns, "signal", "subject", "kind", "source", "model", "shares", "readings",
  "agreement", "agreement_low", "agreement_high", "agreement_count", "agreement_given_on", "agreement_given_off",
  "reference_transitions", "matched", "missed", "phantom", "fragmented",
  "missed_share", "missed_share_low", "missed_share_high", "missed_share_count",
  "phantoms_per_30_days", "phantoms_per_30_days_low", "phantoms_per_30_days_high",
  "lag_on_median_s", "lag_on_p90_s", "lag_off_median_s", "lag_off_p90_s",
  "known_share", "silences", "silent_hours", "restarts", "flaps", "judged_against",
] as const;

const episodeColumns = [...periodColumns, "episode", "kind", "anchor", "anchor_subject", "from", "to", "subjects", "basis", "signal", "outcome", "lag_s"] as const;

const firingColumns = [...periodColumns, "rule", "act", "event", "at", "outcome", "looks", "wanted_at", "delay_s", "vouchers", "why"] as const;

type Row<Columns extends readonly string[]> = Record<Columns[number], Cell>;

/** signals.csv: one row a signal, as in the report's signal table. Shares are 0..1, lags in seconds. */
export function signalsCsv(findings: Findings): string {
  return tableCsv(signalsTable(findings), signalColumns);
}

/** episodes.csv: one row a signal of an episode; an episode without a participant keeps one row. */
export function episodesCsv(findings: Findings): string {
  return tableCsv(episodesTable(findings), episodeColumns);
}

/** firings.csv: one row a firing, and one a wanted instant that came late or was missed, by rule and instant. */
export function firingsCsv(findings: Findings): string {
  return tableCsv(firingsTable(findings).orderby("rule", "at"), firingColumns);
}

/** The site and the first and last local day that a row is of, so that tables of many sites and months can be read as one. */
function periodCells({ site, period }: Pick<Findings, "site" | "period">): Row<typeof periodColumns> {
  const { from, to } = localDaysOf({ site, period });
  return { site: site.name, period_from: from, period_to: to };
}

/** One row a signal. */
export function signalsTable(findings: Findings): ColumnTable {
  const rows = findings.signals.map(
    (score): Row<typeof signalColumns> => ({
      ...periodCells(findings),
      signal: score.signal,
      subject: score.subject,
      kind: score.kind,
      source: score.source,
      model: score.model,
      shares: score.shares.join(" "),
      readings: score.readings,
      agreement: score.agreement.value,
      agreement_low: score.agreement.low,
      agreement_high: score.agreement.high,
      agreement_count: score.agreement.count,
      agreement_given_on: score.agreementGivenOn.value,
      agreement_given_off: score.agreementGivenOff.value,
      reference_transitions: score.transitions.reference,
      matched: score.transitions.matched,
      missed: score.transitions.missed,
      phantom: score.transitions.phantom,
      fragmented: score.transitions.fragmented,
      missed_share: score.missedShare.value,
      missed_share_low: score.missedShare.low,
      missed_share_high: score.missedShare.high,
      missed_share_count: score.missedShare.count,
      phantoms_per_30_days: score.phantomRate.value,
      phantoms_per_30_days_low: score.phantomRate.low,
      phantoms_per_30_days_high: score.phantomRate.high,
      lag_on_median_s: score.lagOn.median.value,
      lag_on_p90_s: score.lagOn.p90.value,
      lag_off_median_s: score.lagOff.median.value,
      lag_off_p90_s: score.lagOff.p90.value,
      known_share: score.knownShare,
      silences: score.silences.count,
      silent_hours: score.silences.hours,
      restarts: score.restarts,
      flaps: score.flaps,
      judged_against: score.judgedAgainst.witnesses.join(" "),
    }),
  );
  return tableOf(signalColumns, rows);
}

/** One row a signal of an episode. */
export function episodesTable(findings: Findings): ColumnTable {
  const period = periodCells(findings);
  const rows = findings.episodes.flatMap((episode): Row<typeof episodeColumns>[] => {
    const head = {
      ...period,
      episode: episode.id,
      kind: episode.kind,
      anchor: isoText(episode.anchor),
      anchor_subject: episode.anchorSubject,
      from: isoText(episode.from),
      to: isoText(episode.to),
      subjects: episode.subjects.join(" "),
      basis: episode.basis,
    };
    if (episode.participants.length === 0) return [{ ...head, signal: null, outcome: null, lag_s: null }];
    return episode.participants.map(({ signal, outcome, lagSeconds }) => ({ ...head, signal, outcome, lag_s: lagSeconds }));
  });
  return tableOf(episodeColumns, rows);
}

/** One row a firing, and one a wanted instant that was not served in time. */
export function firingsTable(findings: Findings): ColumnTable {
  const rows = findings.rules.flatMap((rule): Row<typeof firingColumns>[] => {
    const head = { ...periodCells(findings), rule: rule.name, act: rule.act };
    const fired = rule.firingList.map((firing) => ({
      ...head,
      event: "firing",
      at: isoText(firing.at),
      outcome: firing.outcome,
      looks: firing.looks,
      wanted_at: firing.wantedAt === null ? null : isoText(firing.wantedAt),
      delay_s: firing.delaySeconds,
      vouchers: firing.vouchers.join(" "),
      why: firing.why,
    }));
    const unserved = rule.wantedList
      .filter((wanted) => wanted.outcome !== "served")
      .map((wanted) => ({
        ...head,
        event: "wanted",
        at: isoText(wanted.at),
        outcome: wanted.outcome,
        looks: null,
        wanted_at: isoText(wanted.at),
        delay_s: wanted.delaySeconds,
        vouchers: "",
        why: wanted.why,
      }));
    return [...fired, ...unserved];
  });
  return tableOf(firingColumns, rows);
}

/** How many rows were set aside for which reason over all files, most first. */
export function setAsideTally(findings: Pick<Findings, "ledger">): { readonly reason: string; readonly count: number }[] {
  const rows = findings.ledger.flatMap(({ reasons }) => reasons);
  if (rows.length === 0) return [];
  return from(rows)
    .groupby("reason")
    .rollup({ count: op.sum("count") })
    .orderby(desc("count"), "reason")
    .objects() as { reason: string; count: number }[];
}

/** Columns are named even when there is no row, so that an empty table keeps its header. */
function tableOf<Columns extends readonly string[]>(columns: Columns, rows: readonly Row<Columns>[]): ColumnTable {
  return table(Object.fromEntries(columns.map((name) => [name, rows.map((row) => row[name as Columns[number]])])));
}

function tableCsv(rows: ColumnTable, columns: readonly string[]): string {
  const objects = rows.objects() as Record<string, Cell>[];
  return csvText(columns, objects.map((row) => columns.map((name) => row[name] ?? null)));
}
