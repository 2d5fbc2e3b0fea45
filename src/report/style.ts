import { layoutStyle } from "./style-layout.js";

/**
 * Colours by their use. Text keeps at least 4.5:1 to the paper in both; the hues stay apart for colour-blind readers.
 */
export const light = "--paper:#fcfbf8;--ink:#1d1c1a;--soft:#5a564e;--hair:#d9d5cb;--wash:#dfe9f0;--note:#f4f0e4;--signal:#00598f;--clear:#00634a;--open:#7a4d00;--breaks:#a83200";
/** The same in the dark. */
export const dark = "--paper:#17191b;--ink:#ece9e2;--soft:#b0aca2;--hair:#3d4044;--wash:#243a49;--note:#26241c;--signal:#7cc1ef;--clear:#5fcba8;--open:#f0bd5a;--breaks:#ff9a72";

/**
 * On paper: the first page is the summary; nothing is cut off, figures and rows stay in one piece. What a reader has
 * opened is printed; what is folded stays folded and says so: a month's lists fill a hundred pages.
 */
const printStyle = `@media print{
@page{margin:16mm 14mm}
html{font-size:9.5pt}
body{max-width:none;padding:0}
nav,.skip{display:none}
header{padding:0 0 .4rem}
.private{padding-bottom:.3rem}
h1{font-size:20pt;margin:.5rem 0 .4rem}
.part.ends{break-after:page}
#short-rules{display:none}
.part.ends .scroll table{font-size:8.5pt}
.part.ends tbody th{min-width:9rem}
.part.ends td.prose{max-width:none}
.part{display:block;padding-top:1rem}
.part>h2{position:static;margin-bottom:.6rem}
.scroll{overflow:visible}
.scroll table{font-size:7pt;width:100%;min-width:0}
.scroll th,.scroll td{min-width:0;padding-right:.55rem}
tbody th .name{overflow-wrap:normal}
.scroll td.number small{min-width:0;white-space:normal}
.moment details{display:none}
.scroll tbody th,.scroll thead th:first-child{position:static}
details.folded:not([open])>summary::after{content:" (folded away on paper; open it before printing, or look into the files beside this report)";font-weight:400;color:var(--soft)}
figure,tr,.deciding,.caution{break-inside:avoid}
thead button{display:contents}
tfoot{display:table-row-group}
tbody:first-of-type>tr:first-child,tfoot>tr{break-before:avoid}
h2,h3,h4,caption,.phrase,.sentence,figcaption{break-after:avoid}
.verdict{break-inside:auto}
}`;

/** The one inline style of the report; its hash stands in the page's policy. */
export const style = `:root{color-scheme:light dark;${light}}
@media(prefers-color-scheme:dark){:root{${dark}}}
${layoutStyle}
${printStyle}
@media print{:root{color-scheme:light;${light};--paper:#fff}}
`;
