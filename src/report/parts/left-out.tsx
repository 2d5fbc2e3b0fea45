import type { JSX } from "preact";
import { countText } from "../format.js";

/** A list is shown up to here: the page of a large fleet must still open. The CSV files hold everything. */
export const MOST_LISTED = 150;

/** So many moments of a kind are told one by one, a rule. */
export const MOST_TOLD = 60;

/** Wide tables, of ten numbers a row and more, are shown up to here. */
export const MOST_TABLED = 100;

/** Where to find what a list leaves out; nothing when it leaves out nothing. */
export function LeftOut({ count, file }: { count: number; file: string }): JSX.Element | null {
  if (count <= 0) return null;
  return (
    <p class="aside">
      {countText(count)} more are not shown here, to keep this page small; {file} has them all.
    </p>
  );
}
