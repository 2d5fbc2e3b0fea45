import type { Counts } from "../../../src/index.js";
import { auditWorld } from "./audit-world.js";
import { limitsFor, monthSpan, withinOf, type LongRun, type Setting } from "./limits.js";
import type { Mechanism } from "./mechanism.js";
import { chanceNamed } from "./random.js";

/** What the audits of one mechanism and setting came to. */
export interface SettingResult {
  readonly months: number;
  readonly cleared: number;
  readonly refused: number;
  /** Milliseconds an audit takes. */
  readonly auditMs: number;
  /** How often each reason stood against clearing. */
  readonly against: Readonly<Record<string, number>>;
}

/** Audits `months` months (or runs of months, for mechanisms that are looked at again and again). */
export async function runSetting(mechanism: Mechanism, truth: LongRun, setting: Setting, months: number): Promise<SettingResult> {
  const against: Record<string, number> = {};
  const sums = { cleared: 0, refused: 0, audits: 0, ms: 0 };
  for (let unit = 0; unit < months; unit += 1) {
    let [cleared, refused] = [false, false];
    const earlier: Counts[] = [];
    for (let look = 0; look < (mechanism.looks ?? 1); look += 1) {
      // Every history begins in the same month of the year.
      const world = mechanism.build(chanceNamed(`${mechanism.id}/${unit}/${look}`), monthSpan(look), { faulty: setting !== "sound", seen: true, month: look });
      const started = performance.now();
      const { verdicts, against: reasons, counts } = await auditWorld(world, limitsFor(mechanism, truth, setting, withinOf(world.rule)), mechanism.looks === undefined ? undefined : earlier);
      sums.ms += performance.now() - started;
      sums.audits += 1;
      earlier.push(counts);
      if (verdicts.includes("clear to enable")) cleared = true;
      if (verdicts[0] === "do not enable") refused = true;
      for (const code of reasons) against[code] = (against[code] ?? 0) + 1;
    }
    if (cleared) sums.cleared += 1;
    if (refused) sums.refused += 1;
  }
  return { months, cleared: sums.cleared, refused: sums.refused, auditMs: sums.ms / sums.audits, against };
}
