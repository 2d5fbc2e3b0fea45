/**
 * The cell of a sampled row in a column, or the name of a column in the header. A sample keeps only rows with as many
 * cells as the header, so a cell that is not there is a fault of the program: throws `RangeError`.
 */
export function cellAt(cells: readonly string[], column: number): string {
  const cell = cells[column];
  if (cell === undefined) throw new RangeError(`A row of ${cells.length} cells has no column ${column + 1}.`);
  return cell;
}
