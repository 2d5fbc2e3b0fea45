import type { ComponentChildren, JSX } from "preact";

interface Column {
  readonly head: ComponentChildren;
  /** Numbers stand at the right, under one another. */
  readonly number?: boolean;
}

/** A column of words. */
export const words = (head: ComponentChildren): Column => ({ head });
/** A column of numbers. */
export const numbers = (head: ComponentChildren): Column => ({ head, number: true });

interface Properties {
  /** Unique within the page. */
  readonly id: string;
  readonly caption: ComponentChildren;
  readonly columns: readonly Column[];
  /** A row is its cells, the first of which heads the row. */
  readonly rows: readonly (readonly ComponentChildren[])[];
  readonly total?: readonly ComponentChildren[];
}

/** A table in a region of its own: where it is too wide it scrolls there, by keyboard too, and not the page. */
export function DataTable({ id, caption, columns, rows, total }: Properties): JSX.Element {
  const cells = (row: readonly ComponentChildren[]): JSX.Element[] =>
    row.map((cell, index) => {
      const look = columns[index]?.number === true ? { class: "number" } : {};
      return index === 0 ? (
        <th scope="row" {...look}>
          {cell}
        </th>
      ) : (
        <td {...look}>{cell}</td>
      );
    });
  return (
    <div class="scroll" role="region" aria-labelledby={id} tabindex={0}>
      <table>
        <caption>
          <span id={id}>{caption}</span>
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th scope="col" {...(column.number === true ? { class: "number" } : {})}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr>{cells(row)}</tr>
          ))}
        </tbody>
        {total === undefined ? null : (
          <tfoot>
            <tr>{cells(total)}</tr>
          </tfoot>
        )}
      </table>
    </div>
  );
}
