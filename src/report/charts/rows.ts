import { shortened } from "../visible-text.js";
import { type Breadth, gutterPx, palette } from "./theme.js";

const LABEL_CHARACTERS: Readonly<Record<Breadth, number>> = { wide: 27, narrow: 16 };
const KEY_DIGITS = 6;

/** Height in px of one row of a chart that has a row for each signal or bay. */
export const ROW_PX = 26;

/** A key that stays unique when two long names are cut to the same label: the row's number, then the label. */
export function rowKey(index: number, label: string, breadth: Breadth): string {
  return String(index).padStart(KEY_DIGITS, "0") + shortened(label, LABEL_CHARACTERS[breadth]);
}

/** The y encoding of such a chart: rows in the given order, labelled by what follows the number in the key. */
export function rowEncoding(breadth: Breadth) {
  return {
    field: "row",
    type: "nominal",
    sort: null,
    title: null,
    axis: {
      labelExpr: `slice(datum.value, ${KEY_DIGITS})`,
      labelLimit: 0,
      labelColor: palette.ink,
      domain: false,
      ticks: false,
      grid: true,
      gridColor: palette.hair,
      labelAlign: "left",
      labelPadding: gutterPx[breadth],
    },
  } as const;
}
