/** On paper: nothing folded away (but the words that say what the drawing beside them shows), nothing cut off, figures and rows in one piece. */
export const printStyle = `@media print{
@page{margin:16mm 14mm}
html{font-size:9.5pt}
body{max-width:none;padding:0}
nav,.skip{display:none}
.part{display:block;padding-top:1rem}
.part>h2{position:static;margin-bottom:.6rem}
.scroll{overflow:visible}
.scroll table{font-size:7pt;width:100%;min-width:0}
.scroll th,.scroll td{min-width:0;padding-right:.55rem}
tbody th .name{overflow-wrap:normal}
.scroll td.number small{min-width:0;white-space:normal}
.moment details{display:none}
.scroll tbody th,.scroll thead th:first-child{position:static}
details::details-content{content-visibility:visible;block-size:auto}
summary{list-style:none}
figure,tr,.deciding,.caution{break-inside:avoid}
h2,h3,h4,caption{break-after:avoid}
.verdict{break-inside:auto}
}`;
