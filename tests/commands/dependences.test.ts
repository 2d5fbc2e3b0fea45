import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/commands/check.js";
import { auditSite } from "../../src/pipeline.js";
import { loadSite } from "../../src/site/load.js";
import { folderWith, listening } from "./tiny-site.js";

const site = (rest = ""): string => `site: Otter Cottage
timezone: UTC
sources:
  log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says }
bays: { bay: {} }
signals:
  mat: { on: bay, source: log, channel: mat, kind: flag, occupied: [in], empty: [out]${rest} }
  wall: { on: bay, source: log, channel: wall, kind: flag, occupied: [in], empty: [out] }
  beam: { on: bay, source: log, channel: beam, kind: flag, occupied: [in], empty: [out] }
`;

/** Thirty days with two turns each; the beam is late in its own way. */
function log(): string {
  const rows = ["at,what,says"];
  for (let turn = 0; turn < 60; turn += 1) {
    const at = (late: number): string => new Date(Date.UTC(2026, 5, 1 + (turn >> 1), turn % 2 === 0 ? 8 : 17, turn % 7, (turn * 11) % 30 + late)).toISOString();
    const says = turn % 2 === 0 ? "out" : "in";
    rows.push(`${at(0)},mat,${says}`, `${at(0)},wall,${says}`, `${at((turn * 5) % 23)},beam,${says}`);
  }
  return `${rows.join("\n")}\n`;
}

const watch = { onSetAside: () => undefined };
const audited = async (text: string) => auditSite(await loadSite(join(await folderWith({ "site.yaml": text, "log.csv": log() }), "site.yaml")), { period: { form: "all" }, madeAt: 0, watch });

describe("two sensors that change in the same second", () => {
  it("are told of on top of an audit, and count as one", async () => {
    const { notes, dependences, references } = await audited(site());
    expect(notes[0]).toBe("mat and wall changed in the same second at 59 of 59 turns: they count as one sensor until the site file says what they share (“shares”) or why they are independent (“independent”).");
    expect(dependences).toEqual([{ signals: ["mat", "wall"], how: "turns", text: "changed in the same second at 59 of 59 turns", declaredIndependent: false }]);
    expect(references[0]!.causes).toEqual([expect.objectContaining({ signals: ["mat", "wall"], causes: [], correlation: 1, weight: 0.5 })]);
  });

  it("count as two, and are told of, once the site file gives a reason", async () => {
    const { notes, references } = await audited(site(", independent: { of: wall, because: one supply each }"));
    expect(notes[0]).toBe("mat and wall changed in the same second at 59 of 59 turns. They still count as two independent sensors, because the site file says so.");
    expect(references[0]!.causes).toEqual([]);
  });

  it("are asked about by check, with the lines to write", async () => {
    const around = listening(await folderWith({ "site.yaml": site(), "log.csv": log() }));
    expect(await runCheck({ siteFile: "site.yaml", quiet: true }, around)).toBe(0);
    expect(around.said()).toContain(`mat and wall changed in the same second at 59 of 59 turns: do they share a board, a supply or a hub?
    If so, write \`shares: [NAME]\` for both; if not, \`independent: { of: wall, because: WHY }\` for mat. Until then they count as one sensor`);
  });
});
