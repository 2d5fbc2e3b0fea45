/**
 * The look of the page to decide on: the answer, the screens of the rules, the folds. Colours are named by their use only (see
 * style.ts), so that one text serves dark and light.
 */
export const answerStyle = `.kicker{display:flex;gap:0 .7rem;flex-wrap:wrap;margin:0;max-width:none;padding-top:.9rem;color:var(--ink2);font-size:.82rem}
.kicker b{color:var(--ink)}
.kicker .private{margin-left:auto}
h1{font:400 clamp(1.55rem,1rem + 2.1vw,2.7rem)/1.14 var(--serif);letter-spacing:-.01em;margin:1.1rem 0 1.2rem;max-width:24em;text-wrap:balance}
.heads,.row{display:grid;grid-template-columns:minmax(0,2.6fr) minmax(0,2.6fr) minmax(0,3fr) minmax(0,2.2fr);gap:0 clamp(.75rem,2vw,1.6rem)}
.heads{font-size:.79rem;color:var(--ink2);padding-bottom:.4rem;border-bottom:1.5px solid var(--ink)}
.rows{list-style:none;margin:0;padding:0;max-width:none;border-top:1px solid var(--hair)}
.row{align-items:center;border-bottom:1px solid var(--hair);padding:.45rem 0}
.row p{margin:0;font-size:.92rem;line-height:1.4}
.who{display:flex;gap:.75rem;align-items:flex-start}
.who .verdict-mark{margin-top:.1rem;flex:none}
.rule-name{font:400 1.12rem/1.25 var(--serif);color:inherit}
.row .rule-name{display:block}
.who b{font-size:.88rem}
.who small{display:block;flex-basis:100%;font-size:.82rem;color:var(--ink2);line-height:1.35}
.mend-first{display:grid;grid-template-columns:minmax(0,2.6fr) minmax(0,7.8fr);gap:0 clamp(.75rem,2vw,1.6rem);padding:.8rem 0 .7rem;border-bottom:1.5px solid var(--ink)}
.mend-first h2{font-size:1.12rem;margin:0}
.mend-first ol{margin:0;padding-left:1.1rem;font-size:.92rem}
.mend-first a,.row a,.steps a{color:inherit}
.caution-line{font-size:.86rem;color:var(--ink2);padding-top:.6rem;margin:0;max-width:none}

.verdict-mark .post,.roads-strip .post{stroke:var(--ink);stroke-width:2.5;fill:none}
.bar-clear{stroke:var(--blue);stroke-width:10;fill:none}
.bar-open{stroke:var(--ink);stroke-width:1.8;fill:none}
.bar-refused{fill:var(--brick)}
.clears{color:var(--blue)}
.open{color:var(--ink)}
.breaks{color:var(--brick)}

.month-strip,.scene,.roads-strip,.inline-mark{overflow:visible}
.month-strip,.scene,.roads-strip{display:block}
.inline-mark{display:inline-block;vertical-align:-1px;margin-right:3px}
svg text{font-family:var(--sans);font-size:12px;font-variant-numeric:tabular-nums}
.month-strip text,.scene text,.roads-strip text{fill:var(--ink);font-size:12.5px}
.month-strip .quiet,.scene text.quiet,.roads-strip text.quiet{fill:var(--ink2)}
.scene .lane-name,.roads-strip .lane-name{font-weight:600}
.roads-strip p{font-size:.86rem;margin:.25rem 0 .1rem;max-width:none}
.roads-strip svg{display:block;overflow:visible}
.said{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
svg text.halo{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.scene text.in-bar{fill:var(--on);font-weight:600;font-size:12px}
.scene text.cause,.roads-strip text.cause,.scene text.effect{fill:var(--brick);font-weight:600;paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.over{overflow:visible}
.night{fill:var(--wash)}
.frame,.base{stroke:var(--ink2);fill:none}
.grid{stroke:var(--hair);fill:none}
.unheard{fill:url(#unknown-hatch)}
.diary{fill:var(--truth)}
.diary-end{stroke:var(--ink2);stroke-dasharray:2 3}
.fired.right{fill:var(--blue)}
.fired.unverified,.fired.supported{fill:var(--paper);stroke:var(--ink);stroke-width:1.1}
.fired .dot{fill:var(--ink);stroke:none}
.fired.wrong{stroke:var(--brick);stroke-width:2;fill:none;stroke-linecap:square}
.month-strip,.scene,.roads-strip{clip-path:inset(-4px -1px)}
.lane.truth{fill:var(--truth)}
.lane.sensor,.lane.culprit,.lane.rule{fill:var(--state)}
.lane.unknown{fill:url(#unknown-hatch);stroke:var(--ink2);stroke-dasharray:3 3}
.lane.cause{fill:var(--paper);stroke:var(--brick);stroke-width:1.6}
.event{stroke:var(--brick);stroke-width:2}
.event.quiet{stroke:var(--ink2);stroke-dasharray:4 3}
.road.within{fill:var(--blue)}
.road.hollow{fill:var(--paper);stroke:var(--ink2);stroke-width:1.6}
.road.uncounted{stroke-dasharray:4 3}
.road.beyond{fill:var(--brick)}

.rule{margin-top:1.2rem;border-top:1.5px solid var(--ink);padding-top:1rem}
.rule-head{display:flex;align-items:center;gap:.75rem;flex-wrap:wrap}
.rule-head h2{font:400 1.65rem/1.2 var(--serif);margin:0}
.lead{font:400 1.06rem/1.45 var(--serif);max-width:46em;margin:.4rem 0 1rem}
.two{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:1.5rem 3rem}
.rule figure{margin:0 0 1rem}
.rule>figure,.rule-body>figure{margin-top:.6rem}
.rule figure figcaption{font-size:.9rem;margin-bottom:.5rem}
.stacks tbody th.prose{font-weight:400}
.steps{list-style:none;counter-reset:step;margin:.4rem 0 0;padding:0;max-width:none}
.steps li{counter-increment:step;position:relative;padding:.3rem 0 .3rem 1.7rem;font-size:.92rem}
.steps li::before{content:counter(step);position:absolute;left:0;top:.05rem;font:400 1.4rem/1.3 var(--serif);color:var(--ink2)}
.folds{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:0 2rem;margin-top:.9rem}
.fold{border-top:1px solid var(--hair);font-size:inherit;min-width:0}
.fold[open]{grid-column:1/-1}
.fold>summary,.folded-rule>summary{display:flex;gap:.6rem;padding:.45rem 0;width:auto;color:inherit;list-style:none;cursor:pointer;align-items:baseline}
.fold>summary::-webkit-details-marker,.folded-rule>summary::-webkit-details-marker{display:none}
.fold>summary::before,.folded-rule>summary::before{content:"+";font:400 1.1rem/1 var(--serif);color:var(--ink2);width:.8rem;flex:none}
.fold[open]>summary::before,.folded-rule[open]>summary::before{content:"\\2013"}
.fold>summary b{margin-left:auto;text-align:right;font-weight:600;flex:none;max-width:55%}
.fold>summary{font-size:.92rem}
.fold-body,.rule-body,.sensor-body{scroll-margin-top:4rem}
.fold-body{padding:.2rem 0 1rem 1.4rem;min-width:0}
.folded-rule{margin-top:0;padding-top:0;font-size:inherit}
.folded-rule>summary{align-items:center;flex-wrap:wrap;padding:.7rem 0}
.folded-rule .fact{margin-left:auto;color:var(--ink2);font-size:.92rem}
.folded-rule[open]{padding-bottom:1rem}
.rule+.appendix,.rule+section{margin-top:1.6rem}
.appendix{border-top:1.5px solid var(--ink);padding-top:1rem}
.sensors,.typical{border-top:1.5px solid var(--ink);margin-top:1.6rem;padding-top:1rem}
.sensors>h2 small,.typical>h2 small{font:400 .86rem var(--sans);margin-left:.5rem}
.sensors>h2,.typical>h2,.appendix>h2{font:400 1.55rem/1.2 var(--serif);margin:0 0 .3rem}
.nothing{font-size:.9rem;color:var(--ink2);margin:.5rem 0 0;max-width:none}
section.caution{border-top:1.5px solid var(--ink);margin-top:1.6rem;padding-top:1rem}
section.caution h2{font:400 1.3rem/1.2 var(--serif);margin:0 0 .4rem}
section.caution p{font-size:.92rem;max-width:60em;margin:0}
@media(max-width:61rem){.folds{grid-template-columns:repeat(2,minmax(0,1fr))}}
@media screen and (max-width:47.5rem){
.kicker .private{margin-left:0;flex-basis:100%}
h1{margin:.6rem 0 .7rem}
.heads{display:none}
.row .strip-cell{display:none}
.row{grid-template-columns:minmax(0,1fr);gap:.1rem;padding:.35rem 0}
.row p{font-size:.85rem;line-height:1.32}
.who>div{display:flex;flex-wrap:wrap;gap:0 .6rem;align-items:baseline}
.mend-first,.two,.folds{grid-template-columns:minmax(0,1fr)}
.rule-head h2{font-size:1.4rem}
.fold-body,.rule-body,.sensor-body{scroll-margin-top:4rem}
.fold-body{padding-left:0}
}`;
