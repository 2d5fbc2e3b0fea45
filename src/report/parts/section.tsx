import type { ComponentChildren, JSX } from "preact";

interface Properties {
  readonly id: string;
  readonly heading: string;
  readonly children: ComponentChildren;
}

/** A part of a page under its own heading, which stands in the margin where there is room. */
export function Section({ id, heading, children }: Properties): JSX.Element {
  return (
    <section aria-labelledby={id} class="part">
      <h2 id={id}>{heading}</h2>
      <div class="body">{children}</div>
    </section>
  );
}
