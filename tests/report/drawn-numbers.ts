import { parse, View } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";
import { expect } from "vitest";
import type { Sheet } from "../../src/report/charts/sheet.js";

/** What a chart is drawn from: a vega-lite specification, or a sheet of places. */
export type Chart = TopLevelSpec | Sheet;

/** A row of a layer's inline data. */
export type Row = Readonly<Record<string, unknown>>;

/** A layer of a chart as the test reads it. */
export interface DrawnLayer {
  readonly mark: string;
  readonly rows: readonly Row[];
  /** Its places are px worked out beforehand; no scale of the chart's stands between. */
  readonly placed: boolean;
  readonly color: string | undefined;
  readonly dash: string;
}

/** A number of a row that is a place on the sheet, and what it stands for. */
export interface Place {
  readonly row: Row;
  readonly field: string;
  readonly of: readonly number[];
}

/** The layers of a chart, with the data each draws. */
export function layersOf(specification: Chart): DrawnLayer[] {
  if ("layers" in specification) {
    return specification.layers.map(({ mark, rows, look }) => ({
      mark,
      rows: rows as unknown as readonly Row[],
      placed: true,
      color: look.fill ?? look.stroke,
      dash: look["stroke-dasharray"] ?? "",
    }));
  }
  const { data, layer } = specification as unknown as { data?: { values: Row[] }; layer: { data?: { values: Row[] }; mark: string | Record<string, unknown>; encoding: Record<string, { scale?: unknown }> }[] };
  return layer.map((one) => {
    const mark = typeof one.mark === "string" ? { type: one.mark } : one.mark;
    return {
      mark: String(mark.type),
      rows: (one.data ?? data)?.values ?? [],
      placed: [one.encoding.x, one.encoding.y].every((channel) => channel === undefined || channel.scale === null),
      color: (mark.color ?? mark.fill) as string | undefined,
      dash: Array.isArray(mark.strokeDash) ? mark.strokeDash.join() : "",
    };
  });
}

/** The number of a row. */
export function numberOf(row: Row, field: string): number {
  const number = row[field];
  if (typeof number !== "number") throw new TypeError(`${field} of ${JSON.stringify(row)} is no number`);
  return number;
}

/**
 * Keeps account of which numbers of a chart were held against the findings. Two ways of holding: the number is the very one
 * (after a change of unit), or all numbers of a list are places on one even scale of those they stand for.
 */
export function account(layers: readonly DrawnLayer[]) {
  const held = new Map<Row, Set<string>>();
  const hold = (row: Row, field: string): void => void held.set(row, (held.get(row) ?? new Set()).add(field));
  return {
    /** The very number. */
    same: (row: Row, field: string, stored: number | null): void => {
      hold(row, field);
      if (stored === null) expect(row[field]).toBeNull();
      else expect(numberOf(row, field), `${field} of ${JSON.stringify(row)}`).toBeCloseTo(stored, 9);
    },
    /** Places: each is `base + slope · first + slope · second …` of what it stands for, with the same base and slopes. */
    even: (places: readonly Place[]): void => {
      for (const { row, field } of places) hold(row, field);
      expectEven(places.map(({ row, field }) => numberOf(row, field)), places.map(({ of }) => of));
    },
    /** A place that says nothing: where on the sheet a word stands, or the end of a scale. */
    sheet: (row: Row, ...fields: string[]): void => {
      for (const field of fields) hold(row, field);
    },
    /** Numbers of the data that were not held against anything. Of placed layers lines and words are furniture: what words say is read from the drawing. */
    left: (): string[] =>
      layers
        .filter(({ mark, placed }) => !placed || (mark !== "rule" && mark !== "text"))
        .flatMap(({ mark, rows }) => rows.flatMap((row) => Object.keys(row).filter((field) => typeof row[field] === "number" && held.get(row)?.has(field) !== true).map((field) => `${mark}: ${field} of ${JSON.stringify(row)}`))),
  };
}

/** That all of `drawn` are one linear function of what they stand for, to a hundredth of a px. */
export function expectEven(drawn: readonly number[], of: readonly (readonly number[])[]): void {
  const size = (of[0]?.length ?? 0) + 1;
  // Centred and scaled first: instants are large numbers.
  const columns = Array.from({ length: size - 1 }, (_, at) => of.map((one) => one[at] ?? NaN));
  const spans = columns.map((column) => [column[0] ?? 0, Math.max(...column) - Math.min(...column) || 1] as const);
  const rows = of.map((one) => [1, ...one.map((value, at) => (value - spans[at]![0]) / spans[at]![1])]);
  const normal = Array.from({ length: size }, (_, i) => [...Array.from({ length: size }, (__, j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0) + (i === j ? 1e-12 : 0)), rows.reduce((sum, row, at) => sum + row[i]! * drawn[at]!, 0)]);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) {
      if (k === i || Math.abs(normal[i]![i]!) < 1e-9) continue;
      const factor = normal[k]![i]! / normal[i]![i]!;
      for (let j = 0; j <= size; j++) normal[k]![j]! -= factor * normal[i]![j]!;
    }
  }
  const solution = normal.map((row, i) => (Math.abs(row[i]!) < 1e-9 ? 0 : row[size]! / row[i]!));
  for (const [at, row] of rows.entries()) {
    const again = row.reduce((sum, value, i) => sum + value * solution[i]!, 0);
    expect(Math.abs(again - drawn[at]!), `${drawn[at]} for ${of[at]!.join(", ")}, evenly ${again}`).toBeLessThan(0.01);
  }
}

/** An axis label with the value it labels, or a word beside a mark (`value` null). */
export interface DrawnWord {
  readonly text: string;
  readonly value: unknown;
  /** The domain of the axis's scale; null for words beside marks. */
  readonly domain: readonly unknown[] | null;
}

interface SceneItem {
  readonly text?: unknown;
  readonly datum?: { readonly scale?: string; readonly value?: unknown };
  readonly items?: readonly SceneMark[];
}
interface SceneMark {
  readonly role?: string;
  readonly marktype?: string;
  readonly items?: readonly SceneItem[];
}

/** Every word that a chart shows, but for the titles of its axes. */
export async function wordsOf(specification: Chart): Promise<DrawnWord[]> {
  if ("layers" in specification) return specification.layers.flatMap((layer) => (layer.mark === "text" ? layer.rows.map(({ label }) => ({ text: label, value: null, domain: null })) : []));
  const view = await new View(parse(compile(specification).spec), { renderer: "none" }).runAsync();
  const walk = (mark: SceneMark, scale: string | null): DrawnWord[] =>
    (mark.items ?? []).flatMap((item) => {
      const own = mark.role === "axis" ? (item.datum?.scale ?? null) : scale;
      const word = mark.marktype !== "text" || mark.role === "axis-title" ? [] : [{ text: String(item.text), value: item.datum?.value ?? null, domain: mark.role === "axis-label" && own !== null ? ((view.scale(own) as { domain: () => unknown[] }).domain()) : null }];
      return [...word, ...(item.items ?? []).flatMap((inner) => walk(inner, own))];
    });
  const words = walk((view.scenegraph() as unknown as { root: SceneMark }).root, null);
  view.finalize();
  return words;
}
