import { bars, shareBars } from "./bars.js";
import { histogram } from "./bands.js";
import { cellAt } from "./cell.js";
import type { SiteDraft } from "./draft-site.js";
import type { FoundSignal } from "./found.js";
import { kindOf } from "./write-signals.js";
import { durationScalar } from "./yaml-lines.js";

/** Characters of a signal's little chart. */
const CHART_WIDTH = 24;
/** The column of counts, which stand flush right. */
const COUNT_COLUMN = 3;

/**
 * What was found, as a table for the reader's terminal: a line a signal with its kind, subject, readings and a chart:
 * of a meter how often each distance was read (from its nearest to its farthest, the band underlined), of the others
 * the share of each part of the time that was on. `fine` draws with block characters, else with plain ones.
 */
export function draftTable(draft: SiteDraft, fine: boolean): string {
  const rows = draft.placings.map((placing) => {
    const { signal, subject } = placing;
    return [
      cell(signal.id),
      kindOf(placing),
      cell(subject),
      signal.readings.times.length.toLocaleString("en"),
      signal.expect === null ? "changes" : durationScalar(signal.expect.ms),
      chart(signal, fine),
      scale(signal),
    ];
  });
  const header = ["signal", "kind", "watches", "readings", "every", "chart", ""];
  const lines = [header, ...rows];
  const widths = header.map((_, column) => Math.max(...lines.map((line) => cellAt(line, column).length)));
  const padded = (line: readonly string[]): string[] =>
    widths.map((width, column) => (column === COUNT_COLUMN ? cellAt(line, column).padStart(width) : cellAt(line, column).padEnd(width)));
  return lines.map((line) => `  ${padded(line).join("  ")}`.trimEnd()).join("\n");
}

function chart({ reading, readings, states }: FoundSignal, fine: boolean): string {
  if (reading.form === "distance") return bars(histogram(reading.numbers, CHART_WIDTH).counts, fine);
  if (reading.form === "position" && reading.here === null) return "";
  return shareBars(readings.times, states, CHART_WIDTH, fine);
}

function scale({ reading }: FoundSignal): string {
  if (reading.form === "position") {
    return reading.here === null
      ? "places are not shown"
      : `near home over time (within ${reading.here.radiusMetres}m; places are not shown)`;
  }
  if (reading.form === "words") return `on over time (on: ${cell(reading.words.on.join(" "))})`;
  const { low, high } = histogram(reading.numbers, 1);
  return `${low} to ${high}${reading.band === null ? ", no band found" : `, occupied ${reading.band.near} to ${reading.band.far}`}`;
}

/** Texts of exports must not steer the terminal. */
function cell(text: string): string {
  const safe = text.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, "?");
  return safe.length > 24 ? `${safe.slice(0, 23)}~` : safe;
}
