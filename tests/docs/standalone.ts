import { HATCH_ID } from "../../src/report/charts/theme.js";
import { dark, light } from "../../src/report/style.js";

/** A drawing of the report as a file of its own: with the page's colours, in the light and in the dark, its hatching and its background. */
export function standalone(svg: string): string {
  const colours = `:root{${light}}@media(prefers-color-scheme:dark){:root{${dark}}}svg{background:var(--paper)}`;
  const hatch = `<pattern id="${HATCH_ID}" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V6" stroke="var(--soft)" stroke-width="1.4"/></pattern>`;
  return `${svg
    .replace(/^<svg aria-hidden="true"/, '<svg xmlns="http://www.w3.org/2000/svg" font-family="Helvetica, Arial, sans-serif"')
    .replace(/ font-family="inherit"/g, "")
    .replace(/^(<svg[^>]*>)/, `$1<style>${colours}</style><defs>${hatch}</defs>`)
    .replace(/></g, ">\n<")}\n`;
}
