import type { JSX } from "preact";
import type { Drawing } from "../drawings.js";

/**
 * A drawing in both breadths; the page shows the one that fits. `labelledBy` is the caption that says the same in
 * words. The markup is vega's, made by charts/draw.ts from our own specification.
 */
export function Chart({ drawing, labelledBy }: { drawing: Drawing; labelledBy: string }): JSX.Element {
  return (
    <div class="chart" role="img" aria-labelledby={labelledBy}>
      <div class="wide" dangerouslySetInnerHTML={{ __html: drawing.wide }} />
      <div class="narrow" dangerouslySetInnerHTML={{ __html: drawing.narrow }} />
    </div>
  );
}
