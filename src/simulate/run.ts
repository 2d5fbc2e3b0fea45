import { causeHistories } from "./causes.js";
import { diaryText, keptPart } from "./diary.js";
import { exportFiles } from "./exports.js";
import { instantOf } from "./local-calendar.js";
import { movementsOf } from "./movements.js";
import type { Planted, PlantedDirt, PlantedSignal } from "./planted.js";
import type { Scenario } from "./scenario.js";
import { senseSubject } from "./sensing.js";
import { KEPT_DIARY, siteText, TRUE_DIARY } from "./site-text.js";
import { truthOf } from "./truth.js";
import type { ReadingRow } from "./values.js";

/**
 * A scenario played out, the same each time:
 *
 *     movements ─ truth ─┬─ sensors (misses, lags, phantoms, stuck, frozen, silent) ─ readings ─ exports (dirt)
 *     shared causes ─────┘                                                          site.yaml, the diaries
 *
 * `files`: path in the output folder → text (a path that ends in `.gz` is the caller's to compress).
 * `planted`: what was put in, and what came of it.
 * @throws InputError when a one-off event cannot happen.
 */
export function runScenario(scenario: Scenario): { files: ReadonlyMap<string, string>; planted: Planted } {
  const zone = scenario.timezone;
  const period = { from: instantOf(zone, scenario.period.from), to: instantOf(zone, scenario.period.to) };
  const span = { from: period.from - scenario.period.lead, to: period.to };

  // 1. What truly happens.
  const movements = movementsOf(scenario, span.from, span.to);
  const truth = truthOf(scenario, movements, span.from, span.to);

  // 2. What each sensor makes of it.
  const causes = causeHistories(scenario, span.from, span.to);
  const signals = new Map<string, PlantedSignal>();
  const readings = new Map<string, readonly ReadingRow[]>();
  for (const [name, sensor] of Object.entries(scenario.sensors)) {
    const sensing = senseSubject(scenario, name, sensor, truth, causes);
    signals.set(name, sensing.planted);
    readings.set(name, sensing.readings);
  }

  // 3. The exports.
  const files = new Map<string, string>();
  const sources = new Map<string, PlantedDirt>();
  for (const [name, source] of Object.entries(scenario.sources)) {
    const rows = Object.entries(scenario.sensors)
      .filter(([, sensor]) => sensor.source === name)
      .map(([signal, sensor]) => ({ name: signal, sensor, rows: readings.get(signal) ?? [] }));
    const written = exportFiles(scenario, name, source, rows, span);
    for (const [path, text] of written.files) files.set(path, text);
    sources.set(name, written.dirt);
  }

  // 4. The site file and the diaries.
  files.set("site.yaml", siteText(scenario));
  const kept = keptPart(scenario, period);
  files.set(KEPT_DIARY, diaryText(scenario, truth.subjects, kept.subjects, kept.span));
  files.set(TRUE_DIARY, diaryText(scenario, truth.subjects, [...truth.subjects.keys()], span));

  const strangers = truth.strangers.map(({ bay, stay }) => ({ bay, stay }));
  return { files, planted: { period, exports: span, truth: truth.subjects, signals, sources, strangers } };
}
