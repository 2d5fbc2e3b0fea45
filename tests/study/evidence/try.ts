import { settings } from "./settings.js";
import { looksAt } from "./run-setting.js";
import { chanceNamed } from "../verdict/random.js";
import { counted } from "./truth.js";
for (const s of settings) {
  let t0 = performance.now();
  const truth = s.truth();
  const t1 = performance.now() - t0;
  t0 = performance.now();
  const n = 8;
  const looks = Array.from({ length: n }, (_, i) => looksAt(s, i, false));
  const t2 = (performance.now() - t0) / n;
  const c = counted((d, y) => s.make(chanceNamed("t/" + y), d), 2000);
  process.stdout.write(`${s.id} ${truth.perYear.toFixed(4)} sim ${c.bothPerYear.toFixed(4)} apart ${c.apartPerYear.toFixed(4)} ${t1.toFixed(0)} ms; ${t2.toFixed(0)} ms a history; 12: ${looks.map((l) => `${l[3]!.even.toFixed(2)}/${l[3]!.clock.toFixed(2)}`).join(" ")}\n`);
}
