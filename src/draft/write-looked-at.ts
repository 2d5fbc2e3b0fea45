import type { ColumnSample } from "./column-sample.js";
import type { FoundSource } from "./found.js";
import { counted, shown, type Sample } from "./sample.js";
import type { YamlLines } from "./yaml-lines.js";

/** Writes what was looked at of a source of GPX or Parquet: text has an encoding and separators to tell of, these have not. */
export function writeColumnsLookedAt(lines: YamlLines, { tables, header }: FoundSource, samples: readonly (Sample | ColumnSample)[]): void {
  const ours = samples.filter((sample): sample is ColumnSample => "format" in sample && tables.some(({ name }) => name === sample.name));
  const cut = ours.filter(({ cutOff }) => cutOff === true);
  const parts = ours.filter(({ whole }) => !whole);
  const rows = ours.reduce((sum, sample) => sum + sample.rows.length, 0);
  const odd = ours.reduce((sum, sample) => sum + sample.oddRows, 0);
  const extent = parts.length > 0 ? `of ${parts.length === ours.length ? "each" : `${parts.length} of them`} the head, the tail and evenly spaced parts between` : cut.length > 0 ? "read as far as it goes" : "read whole";
  const what = tables[0]!.format.form === "gpx" ? "track points of GPX" : `rows of Parquet, of ${header.length} columns`;
  lines.note(4, `${ours.length === 1 ? "1 file" : `${ours.length} files`}, ${extent}: ${counted(rows)} ${what}${odd > 0 ? `, and ${odd === 1 ? "1 place" : `${counted(odd)} places`} where the markup is broken` : ""}`);
  if (cut.length > 0) lines.guess(4, `${cut.map(({ name }) => shown(name)).join(", ")} stops in the middle: what came after is missing`);
}
