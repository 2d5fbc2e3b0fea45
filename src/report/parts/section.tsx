import type { ComponentChildren, JSX } from "preact";

/** A part of the report under its own heading, which stands in the margin where there is room. */
export function Section({ id, heading, children }: { id: string; heading: string; children: ComponentChildren }): JSX.Element {
  return (
    <section aria-labelledby={id} class="part">
      <h2 id={id}>{heading}</h2>
      <div class="body">{children}</div>
    </section>
  );
}
