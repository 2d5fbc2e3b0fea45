import type { ComponentChildren, JSX } from "preact";

interface Properties {
  /** What is folded away, with how much of it: `41 stretches`. */
  readonly summary: string;
  /** False: shown as it is. */
  readonly when?: boolean;
  readonly children: ComponentChildren;
}

/** Folds away what is long; on paper and for a search it is there all the same. */
export function Folded({ summary, when = true, children }: Properties): JSX.Element {
  if (!when) return <>{children}</>;
  return (
    <details class="folded">
      <summary>{summary}</summary>
      {children}
    </details>
  );
}
