import { describe, expect, it } from "vitest";
import { join } from "node:path";
import { audit } from "../../../src/pipeline.js";
import { folderWith } from "../../commands/tiny-site.js";
import { type Depot, depotMonth, type Planted } from "../../study/keeper/depot.js";

const from = Date.UTC(2026, 9, 1);
const depot = (planted: readonly Planted[], more: Partial<Depot> = {}): Depot => ({ name: "Cinder", seed: 5, bays: 3, tags: true, rule: true, from, days: 31, planted, ...more });
const audited = async (planted: readonly Planted[]) => {
  const folder = await folderWith(depotMonth(depot(planted)).files);
  return audit(join(folder, "site.yaml"), { period: "2026-10", madeAt: Date.UTC(2026, 10, 2) });
};

describe("an export that falls short", () => {
  it("is none where everything is there", async () => {
    const whole = await audited([]);
    expect(whole.exports).toEqual([]);
    expect(whole.rules[0]!.unjudged).toEqual([]);
    expect(whole.rules[0]!.wanted.count).toBeGreaterThan(20);
  });

  it("that renames a channel makes no sensor dark and no night missed", async () => {
    const whole = await audited([]);
    const found = await audited([{ mode: "renamed", sensor: "bay-2-overhead" }]);
    expect(found.exports).toMatchObject([{ kind: "renamed", source: "meters", signals: ["bay-2-overhead"] }]);
    expect(found.exports![0]!.text).toContain("“bay-2-overhead” came as “bay-02-overhead” in meters.csv");
    const [rule] = found.rules;
    expect(rule!.wanted).toMatchObject({ count: 0, missed: 0 });
    expect(rule!.unjudged!.length).toBeGreaterThan(20);
    expect(rule!.verdict).toBe("not proven yet");
    expect(whole.rules[0]!.wanted.missed).toBeLessThan(5);
    expect(found.mend.filter(({ target }) => target.startsWith("bay-2-overhead"))).toEqual([]);
    expect(found.sensors!.find(({ signal }) => signal === "bay-2-overhead")).toMatchObject({ state: "look", why: ["its export falls short"] });
  });

  it("that leaves out a week between two files is asked for, and no board is blamed", async () => {
    const found = await audited([{ mode: "missing export", source: "meters", fromDay: 10, days: 7 }]);
    expect(found.exports).toMatchObject([{ kind: "leaves out", source: "meters", file: null }]);
    expect(found.exports![0]!.text).toMatch(/^The export of meters leaves out the time from .*2026-10-1.* to .*2026-10-18.*: no file holds it\.$/);
    const [gone] = found.exports!;
    expect((gone!.to - gone!.from) / 86_400_000).toBeCloseTo(7, 0);
    expect(found.upkeep!.outages).toEqual([]);
    expect(found.rules[0]!.unjudged!.length).toBeGreaterThan(3);
  });

  it("that is cut off hides its sensors from there on, those that report changes only too", async () => {
    const found = await audited([{ mode: "cut off", source: "contacts", day: 25 }]);
    expect(found.exports).toMatchObject([{ kind: "cut off", source: "contacts", file: "contacts.csv", signals: ["gate-rail", "gate-post", "gate-beam"] }]);
    const [rule] = found.rules;
    expect(rule!.unjudged!.length).toBeGreaterThan(2);
    expect(rule!.unjudged!.every((at) => at >= from + 25 * 86_400_000)).toBe(true);
    for (const signal of ["gate-rail", "gate-post"]) expect(found.signals.find((one) => one.signal === signal)!.knownShare).toBeLessThan(0.85);
    expect(found.mend.filter(({ target }) => target.startsWith("gate"))).toEqual([]);
  });
});
