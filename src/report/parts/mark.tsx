import type { JSX } from "preact";

/** What a mark says: in favour, open, against, or just worth knowing. */
export type Sense = "clears" | "open" | "breaks" | "noted";

/**
 * A small shape before a word that says the same: a full disc with a tick, a dashed triangle, a square struck
 * through, an empty ring. The shape repeats what the colour says, the word repeats both.
 */
export function Mark({ sense }: { sense: Sense }): JSX.Element {
  return (
    <svg class={`mark ${sense}`} viewBox="0 0 24 24" aria-hidden="true">
      {shapes[sense]}
    </svg>
  );
}

const shapes: Readonly<Record<Sense, JSX.Element>> = {
  clears: (
    <>
      <circle cx="12" cy="12" r="10" fill="currentColor" />
      <path d="M7 12.5l3.4 3.4L17 9" fill="none" stroke="var(--paper)" stroke-width="2.4" />
    </>
  ),
  open: <path d="M12 3.2L22 21H2Z" fill="none" stroke="currentColor" stroke-width="2.2" stroke-dasharray="4.6 2.2" />,
  noted: <circle cx="12" cy="12" r="9.5" fill="none" stroke="currentColor" stroke-width="2.2" />,
  breaks: (
    <>
      <rect x="2" y="2" width="20" height="20" fill="currentColor" />
      <path d="M6.5 6.5l11 11M17.5 6.5l-11 11" fill="none" stroke="var(--paper)" stroke-width="2.6" />
    </>
  ),
};
