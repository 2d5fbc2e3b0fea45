/** On paper: nothing folded away, nothing cut off, figures and rows in one piece. */
export const printStyle = `@media print{
@page{margin:16mm 14mm}
html{font-size:9.5pt}
body{max-width:none;padding:0}
nav,.skip{display:none}
.part{display:block;padding-top:1rem}
.part>h2{position:static;margin-bottom:.6rem}
.scroll{overflow:visible}
.scroll table{font-size:7.5pt;width:100%}
.scroll tbody th,.scroll thead th:first-child{position:static}
details::details-content{content-visibility:visible;block-size:auto}
summary{list-style:none}
figure,tr,.deciding,.caution{break-inside:avoid}
h2,h3,h4,caption{break-after:avoid}
.verdict{break-inside:auto}
}`;
