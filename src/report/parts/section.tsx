import type { ComponentChildren, JSX } from "preact";

interface Properties {
  readonly id: string;
  readonly heading: string;
  /** On paper, what follows begins a new page. */
  readonly ends?: boolean;
  readonly children: ComponentChildren;
}

/** A part of the report under its own heading, which stands in the margin where there is room. */
export function Section({ id, heading, ends = false, children }: Properties): JSX.Element {
  return (
    <section aria-labelledby={id} class={ends ? "part ends" : "part"}>
      <h2 id={id}>{heading}</h2>
      <div class="body">{children}</div>
    </section>
  );
}
