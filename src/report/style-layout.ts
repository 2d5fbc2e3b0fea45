/**
 * The look of the page: text set for reading, headings in the margin where there is room, rules instead of boxes.
 * Colours are named by their use only (see style.ts), so that one text serves dark and light.
 */
export const layoutStyle = `*{box-sizing:border-box}
html{font:100%/1.5 var(--sans);font-variant-numeric:tabular-nums;-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;padding:0 1.25rem 3rem;max-width:77.5rem;background:var(--paper);color:var(--ink);overflow-wrap:break-word}
h2,h3{font-family:var(--serif);font-weight:400;line-height:1.2}
p,ul,dl{margin:0 0 .9rem;max-width:44rem}
ul{padding-left:1.2rem}
a{color:var(--blue);text-underline-offset:.15em}
:focus-visible{outline:3px solid var(--blue);outline-offset:2px}
small{font-size:.86em;color:var(--ink2)}
bdi{overflow-wrap:anywhere}
.definitions{position:absolute}
.skip{position:absolute;left:1rem;top:-4rem;padding:.5rem 1rem;background:var(--paper);z-index:3}
.skip:focus{top:.5rem}
.none{color:var(--ink2);font-style:italic}


.part{padding:2.4rem 0 1.2rem;border-top:1px solid var(--hair)}
h2{margin:0 0 1rem;font-size:1.45rem;scroll-margin-top:1rem}
h3{margin:2rem 0 .6rem;font-size:1.25rem;scroll-margin-top:1rem}
.body{min-width:0}
pre{white-space:pre-wrap;overflow-wrap:anywhere;margin:.6rem 0;padding:.6rem .8rem;border:1px solid var(--hair);font-size:.85rem}
.body>:first-child,.body>:first-child>h3{margin-top:0}
@media(min-width:62rem){
.part{display:grid;grid-template-columns:12.5rem minmax(0,1fr);column-gap:2.5rem}
.part>h2{position:sticky;top:1.5rem;align-self:start;text-wrap:balance}
}


.mark{width:.82em;height:.82em;vertical-align:-.06em;flex:none}
.effect{white-space:nowrap;font-weight:600}
.terms{display:grid;grid-template-columns:minmax(0,12rem) minmax(0,1fr);gap:.35rem 1.2rem;max-width:52rem;font-size:.95rem}
.terms dt{color:var(--ink2)}
.terms dd{margin:0}
.terms .figure-text b{font-weight:600}
.terms dd>:last-child{margin-bottom:.4rem}
.conditions{list-style:none;padding:0}
.conditions li{margin-bottom:.3rem}
code{overflow-wrap:anywhere}
.rests{font-size:.95rem;color:var(--ink2)}
.figure-text small+small{display:inline}
td .figure-text small+small{display:block}
@media(max-width:34rem){.terms{display:block}.terms dd{margin:0 0 .6rem}}

figure{margin:1.4rem 0 1.8rem}
figcaption{max-width:48rem;font-size:.95rem;margin-bottom:.7rem;}
.chart svg{display:block;max-width:100%;height:auto}
.chart .narrow{display:none}
@media screen and (max-width:46rem){.chart .wide{display:none}.chart .narrow{display:block}}
.moment{border-top:1px solid var(--hair);padding-top:1rem}
.aside{font-size:.92rem;color:var(--ink2);margin:.5rem 0 .3rem;max-width:48rem}
details{font-size:.92rem}
summary{cursor:pointer;padding:.3rem 0;width:fit-content;max-width:100%;overflow-wrap:anywhere;color:var(--blue)}
details.folded{font-size:1rem;margin:1rem 0}
details.folded>summary{font-weight:600}

.scroll{overflow-x:auto;margin:1.3rem 0 1.8rem;position:relative}
table{border-collapse:collapse;font-size:.9rem;line-height:1.4;min-width:min(100%,46rem);border-bottom:1.5px solid var(--ink)}
caption{text-align:left;padding:0 0 .5rem}
caption .same{display:block;color:var(--ink2);font-size:.88rem;margin-top:.2rem}
caption span{position:sticky;left:0;display:inline-block;max-width:min(48rem,calc(100vw - 3.6rem));font-size:.95rem}
.one-row{margin:1.3rem 0 1.8rem}
.one-row p{max-width:48rem;font-size:.95rem;margin-bottom:.5rem}
.one-row dl{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,13rem),1fr));gap:.5rem 1.4rem;max-width:none;border-block:1.5px solid var(--ink);padding:.5rem 0;font-size:.9rem}
.one-row dt{color:var(--ink2)}
.one-row dd{margin:0}
th,td{text-align:left;vertical-align:top;padding:.42rem .9rem .42rem 0;min-width:4rem}
td{max-width:26rem}
th:last-child,td:last-child{padding-right:.2rem}
thead th{border-block:1.5px solid var(--ink) ;border-bottom-width:1px;font-weight:600;vertical-align:bottom;line-height:1.25}
tbody th{font-weight:500;max-width:16rem;min-width:9.5rem}
tbody tr+tr>*{border-top:1px solid var(--hair)}
tbody .under td{border-top:0;padding-top:0;max-width:none}
.under details{margin:0}
tfoot>tr>*{border-top:1px solid var(--ink);font-weight:600}
thead button{font:inherit;color:inherit;background:none;border:0;margin:0;padding:.15rem 0;min-height:1.5rem;text-align:inherit;text-decoration:underline dotted;text-underline-offset:.25em;cursor:pointer}
thead [aria-sort=ascending] button::after{content:" ▲"}
thead [aria-sort=descending] button::after{content:" ▼"}
.number{text-align:right;font-variant-numeric:lining-nums tabular-nums}
td small,th small{display:block;font-weight:400}
td.number small{white-space:nowrap}
td.number .none~small,td.number small+small,td.number small.loose{white-space:normal}
td.number small:only-of-type{min-width:7rem}
td:not(.number){min-width:7rem}
td b{font-weight:600;white-space:nowrap}
.scroll tbody th,.scroll thead th:first-child{position:sticky;left:0;background:var(--paper);z-index:1}
@media screen and (max-width:46rem){tbody th{max-width:9.5rem;min-width:7rem}}
@media screen and (max-width:34rem){
.scroll table.stacks,.stacks caption,.stacks tbody,.stacks tr,.stacks th,.stacks td{display:block;min-width:0;max-width:none;padding-right:0;text-align:left}
.stacks thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.stacks tr{padding:.55rem 0;border-top:1px solid var(--hair)}
.stacks tbody tr:first-child{border-top:1.5px solid var(--ink)}
.stacks tbody tr>*,.stacks tbody tr+tr>*{border:0;padding:.1rem 0}
.scroll .stacks tbody th{position:static;font-weight:600}
.stacks td::before{content:attr(data-head) ": ";color:var(--ink2)}
.stacks td small{display:inline}
.stacks .under td::before{content:none}
.stacks tbody .under{padding-top:0;border-top:0}
}
.participants{list-style:none;padding:0;margin:0}
.method dt{font-weight:600;margin-top:.7rem}
.method dd{margin:0}
footer{border-top:1px solid var(--hair);margin-top:2rem;padding-top:1rem;font-size:.9rem;color:var(--ink2)}`;
