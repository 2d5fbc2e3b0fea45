/**
 * The look of the page: text set for reading, headings in the margin where there is room, rules instead of boxes.
 * Colours are named by their use only (see style.ts), so that one text serves dark and light.
 */
export const layoutStyle = `*{box-sizing:border-box}
html{font:100%/1.55 "Source Sans 3","Segoe UI","Helvetica Neue",Helvetica,Arial,"Liberation Sans",sans-serif;-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;padding:0 1.25rem 3rem;max-width:82rem;background:var(--paper);color:var(--ink);counter-reset:figure table;overflow-wrap:break-word}
h1,h2,h3,.phrase,.deciding b{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L",P052,Georgia,"Liberation Serif","DejaVu Serif",serif;font-weight:600;line-height:1.2}
p,ul,dl{margin:0 0 .9rem;max-width:44rem}
ul{padding-left:1.2rem}
a{color:var(--signal);text-underline-offset:.15em}
:focus-visible{outline:3px solid var(--signal);outline-offset:2px}
small{font-size:.86em;color:var(--soft)}
.name{overflow-wrap:anywhere}
.definitions{position:absolute}
.skip{position:absolute;left:1rem;top:-4rem;padding:.5rem 1rem;background:var(--paper);z-index:3}
.skip:focus{top:.5rem}
.none{color:var(--soft);font-style:italic}

header{padding:1.1rem 0 1.6rem}
.private{margin:0;max-width:none;font-size:.9rem;color:var(--soft);border-bottom:1px solid var(--hair);padding-bottom:.6rem}
footer .private{border:0}
h1{font-size:clamp(1.9rem,1.2rem + 2.6vw,3rem);margin:1.6rem 0 1.1rem;font-weight:500;letter-spacing:-.01em;max-width:none}
h1 .question{display:block;font-size:.5em;color:var(--soft);font-style:italic;letter-spacing:0;margin-top:.35em}
.facts{max-width:none;margin:0;font-size:.95rem}
.facts div{display:grid;grid-template-columns:4.5rem minmax(0,1fr);gap:.75rem}
.facts dt{color:var(--soft)}
.facts dd{margin:0}
nav{border-block:1px solid var(--hair);padding:.55rem 0;font-size:.92rem}
nav ol{list-style:none;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:.1rem 1.4rem}
nav a{display:inline-block;padding:.3rem 0}

.part{padding:2.4rem 0 1.2rem;border-top:1px solid var(--hair)}
nav+.part{border-top:0}
h2{margin:0 0 1rem;font-size:1.45rem;scroll-margin-top:1rem}
h3{margin:2rem 0 .6rem;font-size:1.25rem;scroll-margin-top:1rem}
h4{margin:1.6rem 0 .4rem;font-size:1rem}
.body{min-width:0}
pre{white-space:pre-wrap;overflow-wrap:anywhere;margin:.6rem 0;padding:.6rem .8rem;border:1px solid var(--hair);font-size:.85rem}
.body>:first-child,.body>:first-child>h3{margin-top:0}
@media(min-width:62rem){
.part{display:grid;grid-template-columns:12.5rem minmax(0,1fr);column-gap:2.5rem}
.part>h2{position:sticky;top:1.5rem;align-self:start;text-wrap:balance}
.facts div{grid-template-columns:12.5rem minmax(0,1fr);gap:2.5rem}
}

.caution{border:1px solid var(--ink);padding:1rem 1.2rem .2rem;max-width:50rem}
.caution p{max-width:none}
.notes{margin-bottom:2rem;font-size:.95rem}
.notes p{margin:0 0 .3rem}

.verdict{padding:.2rem 0 1.6rem 1.4rem;margin:0 0 2.6rem;border-left:6px solid currentColor}
.verdict.open{border-left-style:dashed}
.verdict.breaks{border-left:9px double currentColor}
.verdict>*{color:var(--ink)}
.verdict h3{margin:0;font-size:1.15rem;font-weight:500}
.clears{color:var(--clear)}
.open{color:var(--open)}
.breaks{color:var(--breaks)}
.verdict>.phrase{font-size:clamp(1.7rem,1.3rem + 1.6vw,2.4rem);margin:.1rem 0 .5rem;color:inherit;max-width:none}
.sentence{font-size:1.08rem}
.mark{width:.82em;height:.82em;vertical-align:-.06em;flex:none}
.effect{white-space:nowrap;font-weight:600}
.deciding{display:grid;grid-template-columns:repeat(auto-fit,minmax(13rem,1fr));gap:1rem 2rem;max-width:52rem;margin:1.4rem 0;border-block:1px solid var(--hair);padding:.9rem 0}
.deciding div{display:flex;flex-direction:column}
.deciding dt{font-size:.9rem;color:var(--soft);line-height:1.35;padding-bottom:.3rem}
.deciding dd{margin:0}
.deciding b{display:block;font-size:1.7rem;font-variant-numeric:lining-nums tabular-nums}
.deciding small{display:block}
.terms{display:grid;grid-template-columns:minmax(0,12rem) minmax(0,1fr);gap:.35rem 1.2rem;max-width:52rem;font-size:.95rem}
.terms dt{color:var(--soft)}
.terms dd{margin:0}
.terms .figure-text b{font-weight:600}
.terms dd>:last-child{margin-bottom:.4rem}
.conditions{list-style:none;padding:0}
.conditions li{margin-bottom:.3rem}
code{overflow-wrap:anywhere}
.rests{font-size:.95rem;color:var(--soft)}
.deciding small b,.deciding small small{display:inline;font:inherit}
.figure-text small+small{display:inline}
td .figure-text small+small{display:block}
@media(max-width:34rem){.terms{display:block}.terms dd{margin:0 0 .6rem}.verdict{padding-left:.9rem}}

figure{margin:1.4rem 0 1.8rem}
figcaption{max-width:48rem;font-size:.95rem;margin-bottom:.7rem;counter-increment:figure}
figcaption::before{content:"Figure " counter(figure) ". ";font-weight:600}
.chart svg{display:block;max-width:100%;height:auto}
.chart .narrow{display:none}
@media screen and (max-width:46rem){.chart .wide{display:none}.chart .narrow{display:block}}
.moment{border-top:1px solid var(--hair);padding-top:1rem}
.aside{font-size:.92rem;color:var(--soft);margin:.5rem 0 .3rem;max-width:48rem}
details{font-size:.92rem}
summary{cursor:pointer;padding:.3rem 0;width:fit-content;max-width:100%;overflow-wrap:anywhere;color:var(--signal)}
details.folded{font-size:1rem;margin:1rem 0}
details.folded>summary{font-weight:600}

.scroll{overflow-x:auto;margin:1.3rem 0 1.8rem;position:relative}
table{border-collapse:collapse;font-size:.9rem;line-height:1.4;min-width:min(100%,46rem);border-bottom:1.5px solid var(--ink)}
caption{text-align:left;counter-increment:table;padding:0 0 .5rem}
caption span{position:sticky;left:0;display:inline-block;max-width:min(48rem,calc(100vw - 3.6rem));font-size:.95rem}
caption span::before{content:"Table " counter(table) ". ";font-weight:600}
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
#short-rules{font-size:.95rem}
.part.ends .scroll{margin:0}
.part.ends tbody th{min-width:12rem}
.part.ends tbody th strong{display:block}
.scroll tbody th,.scroll thead th:first-child{position:sticky;left:0;background:var(--paper);z-index:1}
@media screen and (max-width:46rem){tbody th{max-width:9.5rem;min-width:7rem}}
@media screen and (max-width:34rem){
.scroll table.stacks,.stacks caption,.stacks tbody,.stacks tr,.stacks th,.stacks td{display:block;min-width:0;max-width:none;padding-right:0;text-align:left}
.stacks thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.stacks tr{padding:.55rem 0;border-top:1px solid var(--hair)}
.stacks tbody tr:first-child{border-top:1.5px solid var(--ink)}
.stacks tbody tr>*,.stacks tbody tr+tr>*{border:0;padding:.1rem 0}
.scroll .stacks tbody th{position:static;font-weight:600}
.stacks td::before{content:attr(data-head) ": ";color:var(--soft)}
.stacks td small{display:inline}
.stacks .under td::before{content:none}
.stacks tbody .under{padding-top:0;border-top:0}
}
.participants{list-style:none;padding:0;margin:0}
.method dt{font-weight:600;margin-top:.7rem}
.method dd{margin:0}
footer{border-top:1px solid var(--hair);margin-top:2rem;padding-top:1rem;font-size:.9rem;color:var(--soft)}`;
