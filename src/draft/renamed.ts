import type { ExportSample } from "../intake/sample-exports.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import { cellAt } from "./cell.js";
import { undated } from "./file-patterns.js";
import type { FoundSource } from "./found.js";
import type { LayoutFound } from "./layout.js";

/**
 * Sources whose files are called alike, written alike and follow one another in time, with the same columns at the same places under other
 * names, are one source whose columns were renamed. The first of them stands for all; its `otherHeaders` are those of the others.
 */
export function joinRenamed(sources: readonly FoundSource[]): FoundSource[] {
  const joined: FoundSource[] = [];
  for (const source of [...sources].sort((a, b) => extentOf(a).from - extentOf(b).from)) {
    const place = joined.findIndex((earlier) => continues(earlier, source));
    const earlier = joined[place];
    if (earlier === undefined) joined.push(source);
    else {
      const others = [...(earlier.otherHeaders ?? []), source.header];
      joined[place] = { ...earlier, tables: [...earlier.tables, ...source.tables], open: [...earlier.open, ...source.open], otherHeaders: others };
    }
  }
  // In the order in which they came, as their names are given in it.
  return joined.sort((a, b) => sources.findIndex(({ id }) => id === a.id) - sources.findIndex(({ id }) => id === b.id));
}

/** The names of a column over time, the first first. */
export function namesOfColumn({ header, otherHeaders }: FoundSource, column: number): string[] {
  return [...new Set([header, ...(otherHeaders ?? [])].map((one) => cellAt(one, column)))];
}

function continues(earlier: FoundSource, later: FoundSource): boolean {
  const [one, other] = [earlier.tables[0], later.tables[0]];
  return (
    undated(one.name) === undated(other.name) &&
    one.name !== other.name &&
    one.traits.rowsAre === other.traits.rowsAre &&
    !one.traits.hasTracks &&
    one.traits.text?.delimiter.delimiter === other.traits.text?.delimiter.delimiter &&
    one.traits.text?.encoding.encoding === other.traits.text?.encoding.encoding &&
    earlier.written === later.written &&
    earlier.header.length === later.header.length &&
    earlier.timeColumn === later.timeColumn &&
    earlier.timeOfDay === later.timeOfDay &&
    earlier.counts?.written === later.counts?.written &&
    placesOf(earlier.layout) === placesOf(later.layout) &&
    extentOf(earlier).to <= extentOf(later).from
  );
}

/** Where the columns of a layout stand. */
function placesOf(layout: LayoutFound): string {
  if (layout.form === "long") return JSON.stringify([layout.signal, layout.value, layout.latitude, layout.longitude]);
  return JSON.stringify([layout.values, layout.positions.map(({ latitude, longitude }) => [latitude, longitude])]);
}

function extentOf(source: FoundSource): { readonly from: number; readonly to: number } {
  const stamps = makeStampReader({ written: timeWriting(source.written), zone: "UTC", skippedHour: "shift" });
  let [from, to] = [Infinity, -Infinity];
  const tables: readonly ExportSample[] = source.tables;
  for (const { rows } of tables) {
    for (const { cells } of rows) {
      const at = stamps.read(cellAt(cells, source.timeColumn));
      if (at < from) from = at;
      if (at > to) to = at;
    }
  }
  return { from, to };
}
