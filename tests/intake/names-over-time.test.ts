import { expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";
import { readExports } from "../../src/intake/read-exports.js";
import { unpackedReadings } from "../../src/intake/unpack.js";
import { ruleDigest } from "../../src/site/rule-digest.js";
import { folderWith } from "../commands/tiny-site.js";

const site = (channel: string, source = "board") => `site: s
timezone: UTC
sources:
  board: { files: "board-*.csv", time: { column: [at, when], written: iso }, signal: [what, which], value: [says, reading] }
  hub: { files: hub.csv, time: { column: at, written: iso }, each: { d1: [cm, "Abstand cm"] } }
bays: { bay: {} }
signals:
  d1: { on: bay, source: ${source}, channel: ${channel}, kind: distance, unit: cm, present: [50, 150] }
  x1: { on: bay, source: board, channel: x1, kind: flag, occupied: [in], empty: [out] }
rules:
  - { name: r, act: lock, when: { signal: d1, is: empty } }
`;
const files = {
  "board-1.csv": "at,what,says\n2026-10-01T10:00:00Z,d1,100\n2026-10-01T10:00:00Z,x1,in\n",
  "board-2.csv": "when,which,reading\n2026-11-01T10:00:00Z,ceiling1,110\n",
  "hub.csv": "at,Abstand cm\n2026-12-01T10:00:00Z,120\n",
};

it("reads a signal under all of its names, from files with other columns and from several sources", async () => {
  const folder = await folderWith(files);
  const { readings, ledger } = await readExports(parseSite(site("[d1, ceiling1]", "[board, hub]"), `${folder}/site.yaml`, folder), { onSetAside: () => undefined });
  expect([...unpackedReadings(readings.get("d1")!).values].map((metres) => metres.toFixed(2))).toEqual(["1.00", "1.10", "1.20"]);
  expect(ledger.map(({ file, accepted, setAside }) => [file, accepted, setAside])).toEqual([["board-1.csv", 2, 0], ["board-2.csv", 1, 0], ["hub.csv", 1, 0]]);
});

it("refuses one name for two signals, also where it is not the first", () => {
  expect(() => parseSite(site("[d1, x1]").replace("d1: [cm", "x9: [cm"), "site.yaml", "")).toThrow('The signals "d1" and "x1" read the same channel of "board". Expected one signal for each: one sensor must not count as two');
});

it("keeps the evidence of a rule when a sensor gets a further name", () => {
  const digest = (text: string): string => {
    const parsed = parseSite(text.replace(", hub: x", ""), "site.yaml", "");
    return ruleDigest(parsed, parsed.rules[0]!);
  };
  const once = site("d1").replace(/ {2}hub: .*\n/, "");
  expect(digest(once.replace("channel: d1", "channel: [d1, ceiling1]"))).toBe(digest(once));
  expect(digest(once.replace("channel: d1", "channel: d2"))).not.toBe(digest(once));
});
