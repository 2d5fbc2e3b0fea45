import type { ComponentChildren, JSX } from "preact";
import type { Drawing } from "../charts/drawing.js";

interface Properties {
  /** Id of the caption, unique within the page. */
  readonly id: string;
  /** Null: there is no figure. */
  readonly drawing: Drawing | null;
  /** The caption, which says in words what the picture shows. */
  readonly children: ComponentChildren;
  /** What stands below the picture. */
  readonly below?: ComponentChildren;
}

/** A picture under its caption. */
export function Picture({ id, drawing, children, below = null }: Properties): JSX.Element | null {
  if (drawing === null) return null;
  return (
    <figure>
      <figcaption id={id}>{children}</figcaption>
      <Chart drawing={drawing} labelledBy={id} />
      {below}
    </figure>
  );
}

/** A drawing in both breadths; the page shows the one that fits. The markup is our own, made in charts/. */
export function Chart({ drawing, labelledBy }: { drawing: Drawing; labelledBy: string }): JSX.Element {
  return (
    <div class="chart" role="img" aria-labelledby={labelledBy}>
      <div class="wide" dangerouslySetInnerHTML={{ __html: drawing.wide }} />
      <div class="narrow" dangerouslySetInnerHTML={{ __html: drawing.narrow }} />
    </div>
  );
}
