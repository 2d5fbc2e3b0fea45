import type { ComponentChildren, JSX } from "preact";
import { type PathTo, type Traced, type TracedRow, valueAt } from "../traced.js";
import { RowOrigin, type Way, type WrittenBy, writtenValue } from "./datum.js";
import { LeftOut } from "./folded.js";

type AnyRow = TracedRow<unknown>;

/** A path below the row, or with `^.` below the entry whose list the row is in. */
type PathWithin<Row, Value> = Row extends TracedRow<infer Of, infer Above> ? PathTo<Of, Value> | `^.${PathTo<Above, Value>}` : never;

/** A column: its head, and what its cells write; or, where one value is not enough, a cell of its own. */
export type Column<Row extends AnyRow> = {
  readonly head: string;
  /**
   * Numbers are aligned to the right; prose may hold numbers that stand nowhere else. By default what `as` suggests.
   */
  readonly look?: "number" | "prose" | "words";
  /** What stands in the foot of the table, which is there when a column has one. */
  readonly total?: ComponentChildren;
} & (
  | { readonly cell: (row: Row) => ComponentChildren }
  | {
      [As in Way]: {
        readonly path: PathWithin<Row, WrittenBy<As>>;
        readonly as: As;
        /** Where there is no value. */ readonly none?: string;
      };
    }[Way]
);

interface Properties<Row extends AnyRow> {
  /** Unique within the page. */
  readonly id: string;
  readonly caption: ComponentChildren;
  /** The first column heads the rows. */
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  /** Shows the first `most` rows, and below the table how many more there are, all of them in `file`. */
  readonly cut?: { readonly most: number; readonly file: string };
  /** What belongs under a row, across all columns; nothing where null. */
  readonly under?: (row: Row) => JSX.Element | null;
  /**
   * On a phone, rows become blocks with the column's name before each cell: for tables with more words than numbers.
   */
  readonly stacks?: boolean;
  /** Where scripts run, a click on a column's head sorts by it; see script.ts. */
  readonly sorts?: boolean;
}

const wordy: ReadonlySet<Way> = new Set<Way>(["name", "names", "text", "time", "yes or no", "span"]);

/**
 * A table of entries of the result, a row each; nothing where there are none, and a list where there is only one. What is the same in
 * every row stands in its caption. It stands in a region of its own: where
 * it is too wide it scrolls there, by keyboard too, and not the page. The roles repeat what the elements say, because
 * rows shown as blocks on a phone lose them.
 */
export function DataTable<Row extends AnyRow>({
  id,
  caption,
  columns,
  rows,
  cut,
  under,
  stacks = false,
  sorts = false,
}: Properties<Row>): JSX.Element | null {
  if (rows.length === 0) return null;
  const shown = cut === undefined ? rows : rows.slice(0, cut.most);
  const role = stacks ? named : unnamed;
  const [only, second] = rows;
  if (only !== undefined && second === undefined) return <OneRow id={id} caption={caption} columns={columns} row={only} below={under?.(only) ?? null} />;
  const same = columns.filter((column, place) => place > 0 && column.total === undefined && saysTheSame(column, rows));
  const differing = columns.filter((column) => !same.includes(column));
  return (
    <>
      <div class="scroll" data-label={id}>
        <table {...role("table")} {...(stacks ? { class: "stacks" } : {})} {...(sorts && shown.length > 1 ? { "data-sorts": "" } : {})}>
          <caption>
            <span id={id}>{caption}</span>
            {same.length === 0 ? null : <SameInAll columns={same} row={rows[0]} />}
          </caption>
          <thead {...role("rowgroup")}>
            <tr {...role("row")}>
              {differing.map((column) => (
                <th scope="col" {...role("columnheader")} {...lookOf(column)}>
                  {column.head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody {...role("rowgroup")}>
            {shown.map((row) => {
              const below = under?.(row) ?? null;
              return (
                <>
                  <Cells columns={differing} stacks={stacks} from={row.from} write={(column) => cellOf(column, row)} />
                  {below === null ? null : (
                    <tr {...role("row")} class="under">
                      <td {...role("cell")} class="prose" colspan={differing.length}>
                        {below}
                      </td>
                    </tr>
                  )}
                </>
              );
            })}
          </tbody>
          {columns.every(({ total }) => total === undefined) ? null : (
            <tfoot {...role("rowgroup")}>
              <Cells columns={differing} stacks={stacks} write={({ total }) => total} />
            </tfoot>
          )}
        </table>
      </div>
      {cut === undefined ? null : <LeftOut count={rows.length - shown.length} file={cut.file} />}
    </>
  );
}

/** Whether a column says the same in every row. One whose cells are more than a word or a value is never taken to. */
function saysTheSame<Row extends AnyRow>(column: Column<Row>, rows: readonly Row[]): boolean {
  const said = rows.map((row) => ("cell" in column ? column.cell(row) : written(column.path, row)));
  return said.every((one) => typeof one === "string" && one === said[0]);
}

function written(columnPath: string, row: AnyRow): string {
  const { at, path } = placeOf(columnPath, row);
  return JSON.stringify(valueAt(at.of, path) ?? null);
}

/** What every row says, in a line. */
function SameInAll<Row extends AnyRow>({ columns, row }: { columns: readonly Column<Row>[]; row: Row | undefined }): JSX.Element | null {
  if (row === undefined) return null;
  return (
    <span class="same">
      In every row:{" "}
      {columns.map((column, i) => (
        <>
          {i === 0 ? "" : "; "}
          {column.head}: {cellOf(column, row)}
        </>
      ))}
    </span>
  );
}

/** A table of one row would be all heads: it is a list of what they name. */
function OneRow<Row extends AnyRow>({ id, caption, columns, row, below }: Pick<Properties<Row>, "id" | "caption" | "columns"> & { row: Row; below: JSX.Element | null }): JSX.Element {
  return (
    <div role="group" class="one-row" aria-labelledby={id}>
      <p id={id}>{caption}</p>
      <dl>
        {columns.map((column) => (
          <div>
            <dt>{column.head}</dt>
            <dd>{cellOf(column, row)}</dd>
          </div>
        ))}
      </dl>
      {below}
    </div>
  );
}

function Cells<Row extends AnyRow>({
  columns,
  stacks,
  from = "",
  write,
}: {
  columns: readonly Column<Row>[];
  stacks: boolean;
  /** Where the row comes from; left out for a foot. */
  from?: string;
  write: (column: Column<Row>) => ComponentChildren;
}): JSX.Element {
  const [first, ...others] = columns;
  const role = stacks ? named : unnamed;
  const origin = others.some((column) => "path" in column && !String(column.path).startsWith("^.") && !wordy.has(column.as)) ? from : "";
  return (
    <RowOrigin.Provider value={origin}>
      <tr {...role("row")} {...(origin === "" ? {} : { "data-of": origin })}>
        {first === undefined ? null : (
          <th scope="row" {...role("rowheader")} {...lookOf(first)}>
            {write(first)}
          </th>
        )}
        {others.map((column) => (
          <td {...role("cell")} {...lookOf(column)} {...(stacks ? { "data-head": column.head } : {})}>
            {write(column)}
          </td>
        ))}
      </tr>
    </RowOrigin.Provider>
  );
}

/** A table whose rows become blocks on a phone would be no table to a screen reader there, unless its parts say what they are. */
const named = (role: "table" | "rowgroup" | "row" | "columnheader" | "rowheader" | "cell"): { role: typeof role } => ({ role });
const unnamed = (): Record<string, never> => ({});

function lookOf<Row extends AnyRow>(column: Column<Row>): { class?: string } {
  const look = column.look ?? ("as" in column && !wordy.has(column.as) ? "number" : "words");
  return look === "words" ? {} : { class: look };
}

function cellOf<Row extends AnyRow>(column: Column<Row>, row: Row): ComponentChildren {
  if ("cell" in column) return column.cell(row);
  const { at, path } = placeOf(column.path, row);
  return writtenValue(at, path, column.as, column.none);
}

/** Where a column's path leads: within the row, or with `^.` within the entry whose list the row is in. */
function placeOf(path: string, row: AnyRow): { at: Traced<unknown>; path: string } {
  return path.startsWith("^.") ? { at: row.above, path: path.slice(2) } : { at: row, path };
}
