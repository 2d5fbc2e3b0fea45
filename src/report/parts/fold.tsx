import type { ComponentChildren, JSX } from "preact";

interface Properties {
  /** Unique within the page: links lead here, and browsers open the fold for them. */
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
    <details class="fold" id={id}>
      <summary>
        <span>{summary}</span> <b>{number}</b>
      </summary>
      <div class="fold-body">{children}</div>
    </details>
  );
}
