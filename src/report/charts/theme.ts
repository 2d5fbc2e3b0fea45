import type { Config } from "vega-lite";

/**
 * Colours of the charts are CSS variables of the page, so that one drawing reads in the dark and in the light.
 * Two hues only; shape or dash repeats what they say.
 */
export const palette = {
  ink: "var(--ink)",
  soft: "var(--ink2)",
  hair: "var(--hair)",
  paper: "var(--paper)",
  wash: "var(--wash)",
  signal: "var(--blue)",
  clear: "var(--state)",
  open: "var(--ink)",
  breaks: "var(--brick)",
  /** A pattern that the page defines once; see parts/html-page.tsx. */
  unknown: "url(#unknown-hatch)",
} as const;

/** The id of the hatching that stands for "unknown". */
export const HATCH_ID = "unknown-hatch";

/** Two drawings are made of each chart and the page shows the one that fits: scaled-down text cannot be read. */
export type Breadth = "wide" | "narrow";

/** Widths in px; `narrow` fits a 360 px screen with the page's own margins. */
export const chartWidthPx: Readonly<Record<Breadth, number>> = { wide: 740, narrow: 320 };

/**
 * Width in px of the labels left of the rows; on a narrow drawing timing diagrams have them above the lines instead.
 */
export const gutterPx: Readonly<Record<Breadth, number>> = { wide: 200, narrow: 112 };

/**
 * The outer measures of a chart with an axis below and labels in the gutter. Nothing is measured: without the reader's
 * font any measure would be a guess, so the room for texts is given.
 */
export function frame(
  breadth: Breadth,
  top: number,
): { autosize: "none"; padding: { left: number; right: number; top: number; bottom: number }; width: number } {
  const left = gutterPx[breadth];
  const right = 14;
  return { autosize: "none", padding: { left, right, top, bottom: 42 }, width: chartWidthPx[breadth] - left - right };
}

/** Size of the charts' text in px. */
export const TEXT_PX = 12;

/** What all charts have in common. Text takes the page's own font. */
export const theme: Config = {
  background: "transparent",
  font: "inherit",
  aria: false,
  view: { stroke: null },
  text: { color: palette.ink, fontSize: TEXT_PX },
  axis: {
    labelColor: palette.soft,
    titleColor: palette.soft,
    labelFontSize: TEXT_PX,
    titleFontSize: TEXT_PX,
    titleFontWeight: "normal",
    titleAnchor: "start",
    domainColor: palette.soft,
    tickColor: palette.soft,
    gridColor: palette.hair,
  },
};
