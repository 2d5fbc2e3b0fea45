import { escape, from, op } from "arquero";

type Column<Row> = keyof Row & string;

/**
 * One row for all rows with equal keys: the last of them, with the amounts of all added up in their order. Sorted by
 * the keys as JSON text.
 */
export function addedUp<Row extends object>(rows: readonly Row[], keys: readonly Column<Row>[], amounts: readonly Column<Row>[]): Row[] {
  // A table made from no rows has no columns to group by.
  if (rows.length === 0) return [];
  const groups = from([...rows])
    .derive({ last: op.row_number() })
    .groupby(...keys)
    .rollup({ ...sums(amounts), last: op.max("last") })
    .orderby(escape((row: Row) => JSON.stringify(keys.map((key) => row[key]))))
    .objects() as ({ readonly last: number } & Partial<Row>)[];
  // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- `last` is the number of a row of the group
  return groups.map(({ last, ...totals }) => ({ ...rows[last - 1]!, ...totals }));
}

/** For every row, in order, the amounts added up over all rows with the same key. */
export function groupTotals<Row extends object, Amount extends Column<Row>>(
  rows: readonly Row[],
  key: Column<Row>,
  amounts: readonly Amount[],
): Pick<Row, Amount>[] {
  if (rows.length === 0) return [];
  return from([...rows])
    .groupby(key)
    .derive(sums(amounts))
    .select(...amounts)
    .objects() as Pick<Row, Amount>[];
}

function sums(amounts: readonly string[]): Record<string, ReturnType<typeof op.sum>> {
  return Object.fromEntries(amounts.map((name) => [name, op.sum(name)]));
}
