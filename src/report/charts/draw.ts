import { View } from "vega";
import type { TopLevelSpec } from "vega-lite";
import { makeChartShapes, type ChartShapes } from "./chart-shapes.js";
import { compiledChart } from "./compiled-chart.js";
import { shortPath } from "./short-path.js";

/**
 * Draws a vega-lite specification as SVG markup that can stand in a page beside others.
 *
 * The markup is vega's, which escapes the texts it is given. Removed are namespaces and inline style attributes (the
 * page's policy forbids them), classes and roles (the figure around the drawing has one) and decimals beyond a
 * tenth of a px. Ids are renamed, because vega counts them up for the life of the process and they would clash.
 * @param prefix unique within the page, made by us, never from a name
 * @param shapes the shapes compiled before; those of this chart are added
 */
export async function draw(specification: TopLevelSpec, prefix: string, shapes: ChartShapes = makeChartShapes()): Promise<string> {
  const { runtime, tables, height } = compiledChart(specification, shapes);
  const view = new View(runtime, { renderer: "none" });
  try {
    // Copies: vega marks the rows it is given as its own.
    for (const [name, rows] of tables) view.data(name, rows.map((row) => ({ ...(row as object) })));
    if (height !== null) view.height(height);
    return settled(await view.toSVG(), prefix);
  } finally {
    view.finalize();
  }
}

function settled(svg: string, prefix: string): string {
  const ids = [...svg.matchAll(/<[a-zA-Z]+ id="([^"]*)"/g)].map((match) => match[1] ?? "");
  const renamed = (id: string): string => (ids.includes(id) ? `${prefix}-${ids.indexOf(id)}` : id);
  return svg
    .replace(/<path class="(?:back|fore)ground"[^>]*d="(?:M0,0h0v0h0Z)?"[^>]*\/>/g, "")
    .replace(/<[a-zA-Z][^>]*>/g, (tag) =>
      tag
        .replace(/ (?:xmlns(?::\w+)?|class|style|role|version|pointer-events|aria-[a-z]+)="[^"]*"/g, "")
        .replace(/ opacity="1"| font-family="[^"]*"| font-size="[^"]*"| transform="translate\(0,0\)"/g, "")
        .replace(/(\d\.\d)\d+/g, "$1")
        .replace(/ d="([^"]*)"/g, (_, d: string) => ` d="${shortPath(d)}"`)
        .replace(/ id="([^"]*)"/g, (_, id: string) => ` id="${renamed(id)}"`)
        .replace(/url\(#([^)]*)\)/g, (_, id: string) => `url(#${renamed(id)})`),
    )
    .replace(/<path aria-hidden="true"[^>]*display="none"[^>]*\/>/g, "")
    .replace(/<path[^>]* d=""[^>]*\/>/g, "")
    .replace(/<path d="M0,0h[\d.]+v[\d.]+h-[\d.]+Z"\/>/g, "")
    .replace(/^<svg/, '<svg aria-hidden="true"');
}
