import type { Findings } from "./findings.js";
import { roughCount } from "./redact-numbers.js";

type Row = Findings["ledger"][number];

/** Told of a row whose local time a clock change skipped, as of any other stamp that is none. */
const SKIPPED = "local time skipped by a clock change";
const UNREADABLE = "time stamp not readable";

/**
 * A row a source: of files of a day each, one with more rows than the others would tell the day of a clock change; first and
 * last readings of files that were cut by another clock would tell the zone. Accepted rows have two figures and the
 * rest adds up with them; rows of the hour of a clock change are not told apart.
 */
export function redactedLedger(ledger: readonly Row[]): Row[] {
  const sources = [...new Set(ledger.map(({ source }) => source))];
  return sources.map((source) => {
    const rows = ledger.filter((row) => row.source === source);
    const total = (count: (row: Row) => number): number => rows.reduce((sum, row) => sum + count(row), 0);
    const reasons = new Map<string, number>();
    for (const { reason, count } of rows.flatMap((row) => row.reasons)) {
      const told = reason === SKIPPED ? UNREADABLE : reason;
      reasons.set(told, (reasons.get(told) ?? 0) + count);
    }
    const [accepted, duplicate, setAside] = [roughCount(total((row) => row.accepted)), total((row) => row.duplicate), total((row) => row.setAside)];
    return {
      source,
      file: rows[0]?.file ?? "",
      read: accepted + duplicate + setAside,
      accepted,
      duplicate,
      setAside,
      reasons: [...reasons].map(([reason, count]) => ({ reason, count })),
      missingCells: roughCount(total((row) => row.missingCells)),
      unreadableCells: total((row) => row.unreadableCells),
      repeatedHourRows: 0,
      shiftedRows: 0,
      outOfOrderRows: total((row) => row.outOfOrderRows),
      cutOff: rows.some((row) => row.cutOff),
      first: null,
      last: null,
    };
  });
}
