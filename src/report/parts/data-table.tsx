import type { ComponentChildren, JSX } from "preact";

interface Column {
  readonly head: string;
  /** Numbers stand at the right, under one another. */
  readonly number?: boolean;
}

/** A column of words. */
export const words = (head: string): Column => ({ head });
/** A column of numbers. */
export const numbers = (head: string): Column => ({ head, number: true });

interface Properties {
  /** Unique within the page. */
  readonly id: string;
  readonly caption: ComponentChildren;
  readonly columns: readonly Column[];
  /** A row is its cells, the first of which heads the row. */
  readonly rows: readonly (readonly ComponentChildren[])[];
  readonly total?: readonly ComponentChildren[];
  /** On a phone, rows become blocks with the column's name before each cell: for tables with more words than numbers. */
  readonly stacks?: boolean;
}

/**
 * A table in a region of its own: where it is too wide it scrolls there, by keyboard too, and not the page.
 * The roles say what the elements say already, for rows that are blocks on a phone would lose them.
 */
export function DataTable({ id, caption, columns, rows, total, stacks = false }: Properties): JSX.Element {
  const cells = (row: readonly ComponentChildren[]): JSX.Element[] =>
    row.map((cell, index) => {
      const look = columns[index]?.number === true ? { class: "number" } : {};
      return index === 0 ? (
        <th scope="row" role="rowheader" {...look}>
          {cell}
        </th>
      ) : (
        <td role="cell" {...look} {...(stacks ? { "data-head": columns[index]?.head } : {})}>
          {cell}
        </td>
      );
    });
  return (
    <div class="scroll" role="region" aria-labelledby={id} tabindex={0}>
      <table role="table" {...(stacks ? { class: "stacks" } : {})}>
        <caption>
          <span id={id}>{caption}</span>
        </caption>
        <thead role="rowgroup">
          <tr role="row">
            {columns.map((column) => (
              <th scope="col" role="columnheader" {...(column.number === true ? { class: "number" } : {})}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {rows.map((row) => (
            <tr role="row">{cells(row)}</tr>
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
