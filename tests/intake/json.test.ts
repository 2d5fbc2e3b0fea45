import fc from "fast-check";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { makeRecordSplitter } from "../../src/intake/json-records.js";
import type { Site } from "../../src/site/site.js";
import { distanceSignal, intakeOf, longSource } from "./example-site.js";

const site = (file: string): Partial<Site> => ({
  sources: [longSource({ files: [file], timeColumn: "at", layout: { form: "long", signalColumn: "point.name", valueColumn: "says", latitudeColumn: null, longitudeColumn: null } })],
  signals: [distanceSignal("overhead", { channel: "d1" })],
});
const record = (minute: number, says: unknown, more: object = {}) => ({ at: `2026-10-01T10:0${minute}:00Z`, point: { name: "d1", battery: 97 }, says, ...more });
const two = [record(0, 4.2), record(1, "8.1")];

/** What a text is cut into, given in pieces of some length. */
function cut(text: string, pieceLength = text.length || 1) {
  const records: unknown[] = [];
  const others: string[] = [];
  const splitter = makeRecordSplitter(text.slice(0, 1000), { record: (one) => records.push(JSON.parse(one)), other: (one, line) => others.push(`${line} ${one}`) });
  for (let at = 0; at < text.length; at += pieceLength) splitter.push(text.slice(at, at + pieceLength));
  return { records, others, isCutOff: splitter.end().isCutOff };
}

describe("JSON records", () => {
  it.each([
    ["lines", two.map((one) => JSON.stringify(one)).join("\n")],
    ["a list", JSON.stringify(two)],
    ["a list over many lines", JSON.stringify(two, null, 2)],
    ["a list inside a record", JSON.stringify({ from: "hub", rows: two }, null, 1)],
    ["lists inside a list", JSON.stringify([[two[0]], [two[1]]])],
    ["records one after the other", two.map((one) => JSON.stringify(one, null, 2)).join("\n")],
  ])("are read from %s, packed or not, with every record in the ledger", async (_, text) => {
    for (const [name, content] of [["a.json", text], ["a.jsonl.gz", gzipSync(text)]] as const) {
      const { pairs, ledger } = await intakeOf({ [name]: content }, site(name));
      expect(pairs.overhead?.map(([, metres]) => metres.toFixed(2))).toEqual(["1.28", "2.47"]);
      expect(ledger[0]).toMatchObject({ read: 2, accepted: 2, setAside: 0, cutOff: false });
    }
  });

  it("are set aside one by one where they are broken, with their line", async () => {
    const lines = [JSON.stringify(record(0, 4.2)), '{"at": "2026-10-01T10:01:00Z", "point"', "[1, 2]", JSON.stringify(record(2, null)), JSON.stringify(record(3, 4.3)), "x".repeat(70_000)];
    const { ledger, setAside } = await intakeOf({ "a.jsonl": `${lines.join("\n")}\n` }, site("a.jsonl"));
    expect(setAside.map(({ line, reason }) => `${line} ${reason}`)).toEqual(["2 record not well-formed", "3 record not well-formed", "4 no value", "6 field too long"]);
    expect(setAside[0]?.detail).toBe("this is not a whole JSON record");
    expect(setAside[3]?.detail).toBe("the record is longer than 65536 characters");
    expect(ledger[0]).toMatchObject({ read: 6, accepted: 2, setAside: 4 });
  });

  it("are read up to where the file stops", async () => {
    const text = JSON.stringify(two);
    const { ledger } = await intakeOf({ "a.json": text.slice(0, -20) }, site("a.json"));
    expect(ledger[0]).toMatchObject({ accepted: 1, cutOff: true });
  });

  it("that are none are refused with what was found, and empty files as empty", async () => {
    await expect(intakeOf({ "a.json": "at,point\n1,2\n" }, site("a.json"))).rejects.toThrow(
      'a.json:1: No JSON record was found in the file. Expected JSON lines, or a list of JSON records; found "at,point". To mend it: export it as JSON lines or CSV; a file that is no JSON needs another ending.',
    );
    await expect(intakeOf({ "a.json": "" }, site("a.json"))).rejects.toThrow("The file is empty");
  });

  it("do not depend on where the pieces of a text end", () => {
    const value = fc.record({ at: fc.string(), says: fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.string(), fc.boolean()), inner: fc.array(fc.record({ x: fc.string() }), { maxLength: 2 }) });
    fc.assert(
      fc.property(fc.array(value, { minLength: 2, maxLength: 6 }), fc.integer({ min: 1, max: 30 }), fc.constantFrom(undefined, 1), (values, length, indent) => {
        const expected = JSON.parse(JSON.stringify(values)) as unknown;
        expect(cut(JSON.stringify(values, null, indent), length)).toEqual({ records: expected, others: [], isCutOff: false });
        expect(cut(values.map((one) => JSON.stringify(one)).join("\n"), length)).toEqual({ records: expected, others: [], isCutOff: false });
      }),
    );
  });

  it("lose only their own line where a bracket is missing", () => {
    const text = `[\n{"a": 1},\n{"a": {"b": 2},\n{"a": 3},\n{"a": 4}\n]\n`;
    const { records, others } = cut(text);
    expect(records).toEqual([{ a: 1 }, { a: 3 }, { a: 4 }]);
    expect(others).toEqual(['3 {"a": {"b": 2},']);
  });

  it("go on behind a bracket too many, which is counted", () => {
    expect(cut(`[{"a": 1}}, {"a": 2}, 7, {"a": 3}]`)).toEqual({ records: [{ a: 1 }, { a: 2 }, { a: 3 }], others: ["1 }", "1 7"], isCutOff: false });
  });

  it("never throw, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: fc.constantFrom("[", "]", "{", "}", ",", '"', ":", "1", "a", "\\", " ", "\n") }), fc.integer({ min: 1, max: 5 }), (text, length) => {
      expect(() => cut(text, length)).not.toThrow(TypeError);
    }));
  });
});
