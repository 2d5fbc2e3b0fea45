/** Shapes remembered: about as many as one report has. */
const MOST_REMEMBERED = 120;

/** A specification without its rows and height, ready to draw. */
export interface ChartShape {
  /** What the drawing library runs. Its type stays out of the library's own types: they would ask for those of a browser. */
  readonly runtime: object;
  /** The tables the chart reads; one that no layer uses is not among them. */
  readonly asked: ReadonlySet<string>;
}

/**
 * The shapes compiled so far, by their text, the most recently used last. Compiling takes longer than drawing: whoever
 * draws several charts or reports passes the same shapes to all of them.
 */
export type ChartShapes = Map<string, ChartShape>;

/** No shapes yet. */
export function makeChartShapes(): ChartShapes {
  return new Map();
}

/** The shape of a text: one of `shapes`, or else compiled and added, at which the least recently used is dropped. */
export function chartShape(text: string, shapes: ChartShapes, compile: (text: string) => ChartShape): ChartShape {
  const shape = shapes.get(text) ?? compile(text);
  // Delete and add, so that the order is that of use.
  shapes.delete(text);
  shapes.set(text, shape);
  const [oldest] = shapes.keys();
  if (shapes.size > MOST_REMEMBERED && oldest !== undefined) shapes.delete(oldest);
  return shape;
}
