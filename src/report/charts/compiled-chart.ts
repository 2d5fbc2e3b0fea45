import { parse, type Runtime } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";

/** A specification made ready to draw, and what makes this drawing of it differ from others. */
export interface CompiledChart {
  readonly runtime: Runtime;
  /** The rows of every table of the specification, by the name the compiled chart asks for them. */
  readonly tables: ReadonlyMap<string, readonly unknown[]>;
  /** Px; null where the specification does not fix it. */
  readonly height: number | null;
}

/** Shapes remembered: about as many as one report has. */
const MOST_REMEMBERED = 120;
/** The height under which a shape is compiled: the view is given its own. */
const ANY_HEIGHT = 100;
interface Shape {
  readonly runtime: Runtime;
  /** The tables the chart reads; one that no layer uses is not among them. */
  readonly asked: ReadonlySet<string>;
}

const remembered = new Map<string, Shape>();

/**
 * Compiles a vega-lite specification, or reuses one of the same shape, which differs in rows and height only. Compiling
 * takes longer than drawing, a report has many charts of one shape, and a run over many sites many
 * reports.
 */
export function compiledChart(specification: TopLevelSpec): CompiledChart {
  const tables = new Map<string, readonly unknown[]>();
  const given = "height" in specification && typeof specification.height === "number" ? specification.height : null;
  const shape = JSON.stringify(given === null ? specification : { ...specification, height: ANY_HEIGHT }, (key, value: unknown) => {
    if (key !== "data" || typeof value !== "object" || value === null || !("values" in value) || !Array.isArray(value.values)) return value;
    const name = `rows-${tables.size + 1}`;
    tables.set(name, value.values);
    return { name };
  });
  const { runtime, asked } = shapeOf(shape);
  return { runtime, tables: new Map([...tables].filter(([name]) => asked.has(name))), height: given };
}

function shapeOf(text: string): Shape {
  const shape = remembered.get(text) ?? compiled(JSON.parse(text) as TopLevelSpec);
  // Take it out and put it back, so that the least recently used shape is forgotten first.
  remembered.delete(text);
  remembered.set(text, shape);
  if (remembered.size > MOST_REMEMBERED) remembered.delete(remembered.keys().next().value!);
  return shape;
}

function compiled(specification: TopLevelSpec): Shape {
  const { spec } = compile(specification);
  return { runtime: parse(spec), asked: new Set((spec.data ?? []).map(({ name }) => name)) };
}
