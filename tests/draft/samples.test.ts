import { describe, expect, it } from "vitest";
import { gzipSync } from "node:zlib";
import { draftSite } from "../../src/draft/draft-site.js";
import { sampleExports } from "../../src/intake/sample-exports.js";
import { folderWith } from "../commands/tiny-site.js";
import { iso, meterRows, sample } from "./invented-exports.js";

describe("a first look at a large file", () => {
  const rows = Array.from({ length: 20_000 }, (_, i) => `${iso(Date.UTC(2026, 0, 1, 0, i))},d${i % 3},${i}.5`);
  const text = `at,what,says\n${rows.join("\n")}\n`;

  it("shows rows of the file as they are, each once, in order, with their lines", () => {
    const look = sample("big.csv", text, 100_000);
    expect(look.whole).toBe(false);
    expect(look.rows.map(({ cells }) => cells.join(","))).toEqual(look.rows.map(({ line }) => rows[line - 2]));
    expect(look.rows.at(-1)?.line).toBe(rows.length + 1);
    expect(look.rows.length).toBeLessThan(rows.length / 2);
  });

  it("shows the same rows of a packed file, and of one without packing", async () => {
    const folder = await folderWith({ "big.csv": text, "big.csv.gz": gzipSync(text) });
    const { samples: [plain, packed] } = await sampleExports(["*.csv", "*.gz"], folder, () => undefined);
    expect(packed!.rows).toEqual(plain!.rows);
    expect(plain).toMatchObject({ header: ["at", "what", "says"], whole: true, oddRows: 0, cutOff: false });
  });

  it("tells the same of a site from parts as from the whole, and says how much was looked at", () => {
    const log = `stamp,channel,reading\n${meterRows([{ channel: "d1", bay: 1, near: 4.2, far: 8.1 }, { channel: "w1", bay: 1, near: 26, far: 118 }]).join("\n")}\n`;
    const names = { site: "s", file: "site.yaml" };
    const whole = draftSite([sample("a.csv", log)], names);
    const parts = draftSite([sample("a.csv", log, log.length / 3)], names);
    const told = ({ placings }: typeof whole) => placings.map(({ signal, subject, class: subjectClass }) => ({ id: signal.id, subject, subjectClass, expect: signal.expect?.ms, near: signal.reading.form === "distance" ? signal.reading.band?.near.toFixed(1) : null }));
    expect(told(parts)).toEqual(told(whole));
    expect(whole.yaml).toContain("# 1 file, read whole: 5,760 rows");
    expect(parts.yaml).toMatch(/# 1 file, of each the head, the tail and evenly spaced parts between \(of 1 MB in all\): [12],\d{3} rows/);
  });
});
