import type { ComponentChildren, JSX } from "preact";
import { countText } from "../format.js";

/** Lists are cut here: the page of a large fleet must still open. The CSV files hold everything. */
export const MOST_LISTED = 15;

/** Moments of one kind that are described one by one, for each rule. */
export const MOST_TOLD = 6;

/** Wide tables, of ten numbers a row and more, are cut here. */
export const MOST_TABLED = 40;

interface Properties {
  /** What is folded away, with how much of it: `41 stretches`. */
  readonly summary: string;
  /** False: shown as it is. */
  readonly when?: boolean;
  readonly children: ComponentChildren;
}

/** Folds away what is long; a search finds it all the same. */
export function Folded({ summary, when = true, children }: Properties): JSX.Element {
  if (!when) return <>{children}</>;
  return (
    <details class="folded">
      <summary>{summary}</summary>
      {children}
    </details>
  );
}

/** The items as a list, those beyond the first `open` folded away under `summary`. */
export function FoldedList({
  items,
  open,
  summary,
  after,
}: {
  items: readonly ComponentChildren[];
  open: number;
  summary: (rest: number) => string;
  after?: ComponentChildren;
}): JSX.Element {
  const list = (some: readonly ComponentChildren[]): JSX.Element => (
    <ul>
      {some.map((item) => (
        <li>{item}</li>
      ))}
    </ul>
  );
  return (
    <>
      {list(items.slice(0, open))}
      {items.length <= open ? null : (
        <Folded summary={summary(items.length - open)}>
          {list(items.slice(open))}
          {after}
        </Folded>
      )}
    </>
  );
}

/** Where to find what a list leaves out; nothing when it leaves out nothing. */
export function LeftOut({ count, file }: { count: number; file: string }): JSX.Element | null {
  if (count <= 0) return null;
  return (
    <p class="aside">
      {countText(count)} more are not shown here, to keep this page small; {file} has them all.
    </p>
  );
}
