/** What only the fleet page has: its rows, marks, strips, days and funnel. Colours are named by their use only (see style.ts). */
export const fleetStyle = `
.heads.order,.row.order{grid-template-columns:minmax(0,3fr) minmax(0,3fr) minmax(0,2.8fr) minmax(0,2.4fr)}
.row.order .who b{display:block}
.mode-mark path{fill:none;stroke:var(--ink);stroke-width:2}
.mode-mark .lower{stroke:var(--brick)}
.mode-mark.torn .lower{stroke:var(--ink);fill:url(#unknown-hatch)}
.mode-mark{flex:none;vertical-align:-6px}
.ask{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,8fr);gap:0 1.5rem;padding:.6rem 0;border-top:1.5px solid var(--ink);border-bottom:1px solid var(--hair);margin-bottom:.8rem}
.ask h2{font-size:1.12rem;margin:0}
.ask ul{list-style:none;margin:0;padding:0;max-width:none;font-size:.92rem}
.order-strip{display:block}
.order-strip .wrong,.order-strip .flickers{fill:var(--brick)}
.order-strip .silent{fill:var(--ink2)}
.order-strip .frame{stroke:var(--hair);fill:none}
.three{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:0 2.5rem}
.three h3{margin:.4rem 0;font:600 .95rem var(--sans)}
.trend{display:grid;grid-template-columns:minmax(0,1.2fr) minmax(0,1fr);gap:0 .8rem;align-items:end;border-top:1px solid var(--hair);padding:.4rem 0;font-size:.9rem}
.trend p{margin:0}
.trend div path{fill:none;stroke-width:5}
.trend div path.grid{stroke:var(--ink2);stroke-width:1.2}
.trend div .breaks{stroke:var(--brick)}.trend div .clears{stroke:var(--blue)}.trend div .open{stroke:var(--ink2)}
.cap{font-size:.85rem;color:var(--ink2);max-width:none}
.night-key{margin-right:1.1rem;white-space:nowrap}
.night-row{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,9fr);gap:0 1rem;align-items:center;border-top:1px solid var(--hair)}
.night-row p{margin:0;max-width:none;padding:.25rem 0;font-size:.9rem}
.night-marks{display:flex;flex-wrap:wrap;gap:2px 7px}
.night-mark circle,.night-mark rect{fill:none;stroke:var(--ink2);stroke-width:1.3}
.night-mark.served circle{fill:var(--blue);stroke:none}
.night-mark.place circle,.night-mark.place path{stroke:var(--brick);stroke-width:1.8;fill:none}
.night-mark.make circle{stroke:var(--brick)}.night-mark.make path{fill:var(--brick)}
.night-mark.slip circle{stroke:var(--ink)}
.night-mark.unjudged rect{fill:url(#unknown-hatch)}
.night-mark.nobody circle{stroke-dasharray:2 2}
.where-row{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,9fr);gap:0 1rem;align-items:center;border-top:1px solid var(--hair);padding:.3rem 0}
.where-row p{margin:0;max-width:none;font-size:.9rem}
.where-row small{display:block}
.where-heads{border-top:0;font-size:.85rem;color:var(--ink2)}
.where-heads p{display:flex}
.where-heads p span{flex:1 1 0;min-width:0;overflow:hidden;text-overflow:ellipsis;padding-left:.2rem}
.where-row svg .frame{stroke:var(--hair);fill:none}
.where-row svg .place{fill:var(--brick)}
.where-row svg .update{fill:var(--ink2)}
.where-row svg .export{stroke:var(--ink2)}
.funnel{max-width:36rem}
.funnel text{fill:var(--ink2);font-size:12px}
.funnel .grid{stroke:var(--hair)}
.funnel .limit{stroke:var(--ink);stroke-width:2;fill:none}
.funnel .usual{fill:var(--area)}
.funnel .listed{stroke:var(--brick);stroke-width:2.4;fill:none}
@media screen and (max-width:47.5rem){.row.order,.ask,.three,.night-row,.where-row{grid-template-columns:minmax(0,1fr)}.row.order .strip-cell{display:block}}
`;
