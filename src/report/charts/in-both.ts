import type { TopLevelSpec } from "vega-lite";
import type { ChartShapes } from "./chart-shapes.js";
import { draw } from "./draw.js";
import type { Drawing } from "./drawing.js";
import type { Breadth } from "./theme.js";

/** A chart in both breadths by vega-lite; `name` is its own within the page. Null where there is none. */
export async function inBoth(shapes: ChartShapes, name: string, chart: (breadth: Breadth) => TopLevelSpec): Promise<Drawing>;
export async function inBoth(shapes: ChartShapes, name: string, chart: (breadth: Breadth) => TopLevelSpec | null): Promise<Drawing | null>;
export async function inBoth(shapes: ChartShapes, name: string, chart: (breadth: Breadth) => TopLevelSpec | null): Promise<Drawing | null> {
  const [wide, narrow] = [chart("wide"), chart("narrow")];
  return wide === null || narrow === null ? null : { wide: await draw(wide, `${name}-w`, shapes), narrow: await draw(narrow, `${name}-n`, shapes) };
}
