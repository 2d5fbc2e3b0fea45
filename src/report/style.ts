import { layoutStyle } from "./style-layout.js";
import { printStyle } from "./style-print.js";

/** Colours by their use. Text keeps at least 4.5:1 to the paper in both; the hues stay apart for colour-blind readers. */
export const light = "--paper:#fcfbf8;--ink:#1d1c1a;--soft:#5a564e;--hair:#d9d5cb;--wash:#dfe9f0;--note:#f4f0e4;--signal:#00598f;--clear:#00634a;--open:#7a4d00;--breaks:#a83200";
/** The same in the dark. */
export const dark = "--paper:#17191b;--ink:#ece9e2;--soft:#b0aca2;--hair:#3d4044;--wash:#243a49;--note:#26241c;--signal:#7cc1ef;--clear:#5fcba8;--open:#f0bd5a;--breaks:#ff9a72";

/** The one inline style of the report; its hash stands in the page's policy. */
export const style = `:root{color-scheme:light dark;${light}}
@media(prefers-color-scheme:dark){:root{${dark}}}
${layoutStyle}
${printStyle}
@media print{:root{color-scheme:light;${light};--paper:#fff}}
`;
