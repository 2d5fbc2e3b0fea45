import { chartWidthPx } from "./charts/theme.js";

/** The look of the sensors' rows, their strips and pictures, and of the typical day. Colours are the page's own variables. */
export const sensorStyle = `
.hatches{position:absolute}
.sensor-key,.sensor-rest{max-width:none;font-size:13.5px;color:var(--ink2);margin:4px 0 8px}
.key-differed,.key-silent{display:inline-block;width:14px;height:5px;background:var(--brick);vertical-align:middle}.key-silent{background:var(--ink2)}
.key-unchecked{display:inline-block;width:16px;height:11px;vertical-align:-1px;background:repeating-linear-gradient(45deg,var(--hatch) 0 1px,transparent 1px 5px);border:1px solid var(--hatch)}
.sensor{border-top:1px solid var(--hair)}
.sensor summary{display:grid;grid-template-columns:14px 92px minmax(120px,170px) minmax(0,1fr) minmax(0,1.1fr);gap:0 16px;align-items:center;padding:4px 0;width:auto;color:inherit;cursor:pointer;list-style:none}
.sensor summary::-webkit-details-marker{display:none}
.sensor summary:before{content:"+";font:400 18px/1.2 var(--serif);color:var(--ink2)}.sensor[open] summary:before{content:"–"}
.sensor-state{display:flex;gap:10px;align-items:center}.sensor.mend .sensor-state b{color:var(--brick)}
.sensor-name{font:400 17px/1.25 var(--serif);overflow-wrap:anywhere}
.sensor-name bdi{font:inherit}
.twin-mark path{stroke:var(--ink);stroke-width:2.2;fill:none}.twin-mark.mend .lower{stroke:var(--brick)}
.twin-mark{display:block;flex:none}
.day-strip,.step-bars{display:block;overflow:visible}
.day-strip text,.step-bars text{font:12.5px var(--sans);fill:var(--ink2)}
.day-strip .night{fill:var(--wash)}.day-strip .frame{stroke:var(--ink2)}.day-strip .differed{fill:var(--brick)}.day-strip .silent{fill:var(--ink2)}
.sensor-body{padding:4px 0 14px 138px}.sensor-body>p{max-width:44em;margin:0 0 10px}
.sensor-body .lane-name{font-size:12.5px;font-weight:600;margin:6px 0 0}.lane-name bdi{font:inherit}
.twin-picture svg text,.typical-day svg text{font-family:var(--sans);font-variant-numeric:tabular-nums}
.step-bars{max-width:${chartWidthPx.wide}px}
.step-bars .lane{fill:var(--ink);font-weight:600}.step-bars .event{fill:var(--brick);font-weight:600;paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.step-bars .within{fill:var(--on);font-size:12px;font-weight:600}.step-bars .base{stroke:var(--ink2)}.step-bars .tick{stroke:var(--hair);stroke-dasharray:1 3}
.step-bars .truth{fill:var(--truth)}.step-bars .twin,.step-bars .own{fill:var(--state)}.step-bars .wrongly{fill:var(--brick)}.step-bars .expected{stroke:var(--brick);stroke-width:1.5}
.typical-day figcaption{font-size:14px;margin-bottom:10px;max-width:none}.sensor{font-size:inherit}
@media(max-width:46rem){
.sensor summary{grid-template-columns:14px 98px minmax(0,1fr);gap:2px 8px}.sensor-why,.sensor-strip{grid-column:2/4}.sensor-body{padding-left:0}
}
@media print{.sensor{break-inside:avoid}.sensor summary:before{content:""!important}}
`;
