import { beforeAll, describe, expect, it } from "vitest";
import { countsOf } from "../../../src/result/count-findings.js";
import type { Counts } from "../../../src/result/counts.js";
import type { Findings } from "../../../src/result/findings.js";
import { auditSite } from "../../../src/pipeline.js";
import { runScenario } from "../../../src/simulate/run.js";
import { parseScenario } from "../../../src/simulate/scenario.js";
import { loadSite } from "../../../src/site/load.js";
import { monthText } from "../../truth/clocks/month.js";
import { folderWith } from "../../commands/tiny-site.js";

/** A simulated month, audited: other days and other chance with every number. */
async function audited(number: number, text: string, earlier: readonly Counts[] = []): Promise<Findings> {
  const dated = text.replace("seed: 5", `seed: ${number}`).replace("2026-06-01, to: 2026-07-01", `2026-0${number}-01, to: 2026-0${number + 1}-01`);
  const folder = await folderWith(Object.fromEntries(runScenario(parseScenario(dated, "month.scenario.yaml")).files));
  return auditSite(await loadSite(`${folder}/site.yaml`), { period: { form: "month", month: `2026-0${number}` }, madeAt: 0, watch: { onSetAside: () => undefined }, earlier });
}

const told = ({ months }: Findings): string[] => months!.changes.filter(({ beyondChance }) => beyondChance).map(({ signal, measure, before, now }) => `${signal}: ${measure} ${(now ?? 0) > (before ?? 0) ? "rose" : "fell"}`);
const change = ({ months }: Findings, measure: string) => months!.changes.find((one) => one.measure === measure)!;

describe("months of one site, from its exports", () => {
  let before: Counts[] = [];
  beforeAll(async () => {
    before = [countsOf(await audited(4, monthText(""))), countsOf(await audited(5, monthText("")))];
  });

  it("tell nothing where nothing changed", async () => {
    const quiet = await audited(6, monthText(""), before);
    expect(told(quiet)).toEqual([]);
    expect(quiet.months!.changes.map(({ measure }) => measure)).toEqual(expect.arrayContaining(["reading when occupied", "reading when empty", "clock offset", "clock drift"]));
    // Two stays and two absences a day, however many readings.
    const { looks, readings } = quiet.bands[0]!;
    expect(readings).toBeGreaterThan(5000);
    expect(looks.occupied.length + looks.empty.length).toBeLessThan(125);
    expect(looks.occupied.length).toBeGreaterThan(50);
  });

  it("tell of a meter that moved by 20 cm, by how much, and whatever its band", async () => {
    const moved = monthText("").replace("occupied: 120, empty: 260", "occupied: 140, empty: 280");
    const found = await audited(6, moved.replace("present: [100, 140]", "present: [110, 170]"), before);
    expect(told(found)).toEqual(expect.arrayContaining(["meter: reading when occupied rose", "meter: reading when empty rose"]));
    const { before: was, now } = change(found, "reading when occupied");
    expect(now! - was!).toBeCloseTo(0.2, 2);
    expect(found.months!.siteFile[0]).toContain("meter: its band in the site file was 100 cm to 140 cm in 2026-05 and is 110 cm to 170 cm now");
  });

  it("tell of a clock that jumped by 40 s, corrected in the site file or not", async () => {
    for (const clock of ["behind: 40s", "behind: 40s, site: { clock_correction: 40s }"]) {
      const found = await audited(6, monthText(clock), before);
      expect(told(found)).toContain("mat-log: clock offset fell");
      const { before: was, now, against } = change(found, "clock offset");
      expect(against).toBe("meter-log");
      expect(Math.abs(now! - was! + 40)).toBeLessThan(5);
    }
  });

  it("tell of no jump where a clock was wrong all along and was corrected meanwhile", async () => {
    const wrong = countsOf(await audited(5, monthText("behind: 40s")));
    const found = await audited(6, monthText("behind: 40s, site: { clock_correction: 40s }"), [wrong]);
    expect(told(found).filter((text) => text.includes("clock"))).toEqual([]);
    expect(change(found, "clock offset").now).toBeLessThan(-30);
    expect(found.months!.siteFile).toEqual([expect.stringContaining("mat-log: the clock correction in the site file was 0 s in 2026-05 and is 40 s now.")]);
  });
});
