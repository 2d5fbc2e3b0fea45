import type { ComponentChildren, JSX } from "preact";

interface Column {
  readonly head: string;
  /** Numbers stand at the right, under one another; prose may hold numbers that stand nowhere else. */
  readonly look?: "number" | "prose";
}

/** A column of words. */
export const words = (head: string): Column => ({ head });
/** A column of numbers. */
export const numbers = (head: string): Column => ({ head, look: "number" });
/** A column of sentences. */
export const prose = (head: string): Column => ({ head, look: "prose" });

interface Properties {
  /** Unique within the page. */
  readonly id: string;
  readonly caption: ComponentChildren;
  readonly columns: readonly Column[];
  /** A row is its cells, the first of which heads the row. */
  readonly rows: readonly (readonly ComponentChildren[])[];
  /** What belongs under a row, across all columns, by the row's place; nothing where null. */
  readonly under?: readonly (ComponentChildren | null)[];
  readonly total?: readonly ComponentChildren[];
  /** On a phone, rows become blocks with the column's name before each cell: for tables with more words than numbers. */
  readonly stacks?: boolean;
  /** Where scripts run, a click on a column's head sorts by it; see script.ts. */
  readonly sorts?: boolean;
}

/**
 * A table in a region of its own: where it is too wide it scrolls there, by keyboard too, and not the page.
 * The roles say what the elements say already, for rows that are blocks on a phone would lose them.
 */
export function DataTable({ id, caption, columns, rows, under = [], total, stacks = false, sorts = false }: Properties): JSX.Element {
  const lookOf = (column: Column | undefined): { class?: string } => (column?.look === undefined ? {} : { class: column.look });
  const cells = (row: readonly ComponentChildren[]): JSX.Element[] =>
    row.map((cell, index) =>
      index === 0 ? (
        <th scope="row" role="rowheader" {...lookOf(columns[index])}>
          {cell}
        </th>
      ) : (
        <td role="cell" {...lookOf(columns[index])} {...(stacks ? { "data-head": columns[index]?.head } : {})}>
          {cell}
        </td>
      ),
    );
  return (
    <div class="scroll" role="region" aria-labelledby={id} tabindex={0}>
      <table role="table" {...(stacks ? { class: "stacks" } : {})} {...(sorts && rows.length > 1 ? { "data-sorts": "" } : {})}>
        <caption>
          <span id={id}>{caption}</span>
        </caption>
        <thead role="rowgroup">
          <tr role="row">
            {columns.map((column) => (
              <th scope="col" role="columnheader" {...lookOf(column)}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {rows.map((row, index) => (
            <>
              <tr role="row">{cells(row)}</tr>
              {(under[index] ?? null) === null ? null : (
                <tr role="row" class="under">
                  <td role="cell" class="prose" colspan={columns.length}>
                    {under[index]}
                  </td>
                </tr>
              )}
            </>
          ))}
        </tbody>
        {total === undefined ? null : (
          <tfoot role="rowgroup">
            <tr role="row">{cells(total)}</tr>
          </tfoot>
        )}
      </table>
    </div>
  );
}
