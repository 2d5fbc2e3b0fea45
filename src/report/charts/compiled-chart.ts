import { parse, type Runtime } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";
import { chartShape, type ChartShape, type ChartShapes } from "./chart-shapes.js";

/** A specification made ready to draw, and what makes this drawing of it differ from others. */
export interface CompiledChart {
  readonly runtime: Runtime;
  /** The rows of every table of the specification, by the name the compiled chart asks for them. */
  readonly tables: ReadonlyMap<string, readonly unknown[]>;
  /** Px; null where the specification does not fix it. */
  readonly height: number | null;
}

/** The height under which a shape is compiled: the view is given its own. */
const ANY_HEIGHT = 100;

/**
 * Compiles a vega-lite specification, or takes one of the same shape, which differs in rows and height only, from
 * `shapes`. A report has many charts of one shape, and a run over many sites has many reports.
 */
export function compiledChart(specification: TopLevelSpec, shapes: ChartShapes): CompiledChart {
  const tables = new Map<string, readonly unknown[]>();
  const given = "height" in specification && typeof specification.height === "number" ? specification.height : null;
  const shape = JSON.stringify(given === null ? specification : { ...specification, height: ANY_HEIGHT }, (key, value: unknown) => {
    if (key !== "data" || typeof value !== "object" || value === null || !("values" in value) || !Array.isArray(value.values)) return value;
    const name = `rows-${tables.size + 1}`;
    tables.set(name, value.values);
    return { name };
  });
  const { runtime, asked } = chartShape(shape, shapes, compiled);
  // Every shape was made by `compiled`.
  return { runtime: runtime as Runtime, tables: new Map([...tables].filter(([name]) => asked.has(name))), height: given };
}

function compiled(text: string): ChartShape {
  const { spec } = compile(JSON.parse(text) as TopLevelSpec);
  return { runtime: parse(spec), asked: new Set((spec.data ?? []).map(({ name }) => name)) };
}
