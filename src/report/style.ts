import { answerStyle } from "./style-answer.js";
import { sensorStyle } from "./style-sensors.js";
import { layoutStyle } from "./style-layout.js";

/**
 * Colours by their use: two hues, brick is wrong, blue is "a sensor says so". Text keeps at least 4.5:1 to the paper in both; form says
 * the same without colour.
 */
export const light = "--paper:#fbf8f1;--ink:#221e19;--ink2:#5b5349;--hair:#d8cfbf;--wash:#e9e0cc;--brick:#a2341b;--blue:#1f5a80;--state:#47718d;--truth:#3a342c;--on:#fff;--area:#7393a8;--hatch:#93887a";
/** The same in the dark. */
export const dark = "--paper:#1a1714;--ink:#ede6d9;--ink2:#b8ae9f;--hair:#433c33;--wash:#302a22;--brick:#f2916f;--blue:#8bbddd;--state:#6d9cba;--truth:#cdc3b3;--on:#16130f;--area:#56788e;--hatch:#7f7566";

const fonts = `--serif:"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",Georgia,"Liberation Serif","DejaVu Serif",serif;--sans:system-ui,-apple-system,"Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans",sans-serif`;

/**
 * On paper nothing is cut off, figures and rows stay in one piece. What a reader has opened is printed; what is folded stays folded: a
 * month's lists fill a hundred pages.
 */
const printStyle = `@media print{
@page{size:A4;margin:13mm 14mm}
html{font-size:8.6pt}
body{max-width:none;padding:0 3px}
.skip{display:none}
.part{display:block;padding-top:1rem}
.part>h2{position:static;margin-bottom:.6rem}
.two{gap:1rem 1.8rem}
.chart svg{max-width:calc(100% - 4px)}
.rule{margin-top:.9rem;padding-top:.8rem}
.scroll{overflow:visible}
.scroll table{font-size:7pt;width:100%;min-width:0}
.scroll th,.scroll td{min-width:0;padding-right:.55rem}
tbody th bdi{overflow-wrap:normal}
.scroll td.number small{min-width:0;white-space:normal}
.scroll tbody th,.scroll thead th:first-child{position:static}
figure,tr,.row,.mend-first,.steps,.caution,.fold:not([open]),.month-strip,.scene,.roads-strip{break-inside:avoid}
.fold[open]{break-inside:auto}
thead button{display:contents}
tfoot{display:table-row-group}
tbody:first-of-type>tr:first-child,tfoot>tr{break-before:avoid}
h2,h3,h4,caption,.lead,figcaption,summary{break-after:avoid}
.fold>summary::before,.folded-rule>summary::before{content:"\\2192"}
}`;

/** The one inline style of the report; its hash stands in the page's policy. */
export const style = `:root{color-scheme:light dark;${fonts};${light}}
@media(prefers-color-scheme:dark){:root{${dark}}}
${layoutStyle}
${answerStyle}
${sensorStyle}
${printStyle}
@media print{:root{color-scheme:light;${light};--paper:#fff}}
`;
