import type { ComponentChildren, JSX } from "preact";

interface Properties {
  /** Unique within the page. It stands inside, so that browsers open the fold for a link that leads here. */
  readonly id: string;
  /** What is inside. */
  readonly summary: ComponentChildren;
  /** The one number that matters, or a word. */
  readonly number: ComponentChildren;
  readonly children: ComponentChildren;
}

/** A line that opens: what is inside on the left, the number that matters on the right. A search finds what is folded. */
export function Fold({ id, summary, number, children }: Properties): JSX.Element {
  return (
    <details class="fold">
      <summary>
        <span>{summary}</span> <b>{number}</b>
      </summary>
      <div class="fold-body" id={id}>
        {children}
      </div>
    </details>
  );
}
