/**
 * On paper: the first page is the summary; nothing is cut off, figures and rows stay in one piece. What a reader has
 * opened is printed; what is folded stays so and says so, for a month's lists are a hundred pages.
 */
export const printStyle = `@media print{
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
