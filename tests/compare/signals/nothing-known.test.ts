import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../../src/commands/program.js";
import { nothingKnownNotes } from "../../../src/compare/signals/nothing-known.js";
import { stepsText } from "../../../src/result/history-steps.js";
import { findingsSchema } from "../../../src/result/findings.js";
import { folderWith, listening, tinyLog, tinySite } from "../../commands/tiny-site.js";
import { allOf, is, line, ruleOf, siteOf, turned } from "../../judge/small-site.js";

const site = siteOf({ subjects: { "bay-1": "bay", "bay-2": "bay", mira: "person" }, signals: { overhead: "bay-1", wall: "bay-1", phone: "mira" } });
const notesOf = (histories: Readonly<Record<string, string>>, knownShares: Readonly<Record<string, number>>, rules: typeof site.rules = []): string[] =>
  nothingKnownNotes(
    { ...site, rules },
    { subjects: Object.entries(histories).map(([subject, text]) => ({ subject, steps: stepsText(line(text)) })) },
    Object.entries(knownShares).map(([signal, knownShare]) => ({ signal, knownShare })),
  );

describe("notes on subjects of which nothing is known", () => {
  it("say why, and what is missing because of it", () => {
    expect(notesOf({ "bay-1": "", "bay-2": "", mira: "0 on" }, { overhead: 0, wall: 0, phone: 1 })).toEqual([
      "Nothing is known of bay-1 at any time: its signals overhead, wall were unknown throughout, and the diary does not say. So its signals could not be judged, and no visit, false report or missed change could be found; that does not mean there was none.",
      "Nothing is known of bay-2 at any time: no signal watches it, and the diary does not say. So no visit, false report or missed change could be found; that does not mean there was none.",
    ]);
    expect(notesOf({ mira: "" }, { phone: 0 })[0]).toContain("its only signal, phone, was unknown throughout");
    expect(notesOf({ "bay-1": "" }, { overhead: 0.5, wall: 0 })[0]).toContain("what its signals overhead, wall said settles nothing");
  });

  it("name the rules whose being right it decides", () => {
    const rules = [ruleOf(is("phone", 1), turned("mira", 1, 2), { name: "unlock on arrival" }), ruleOf(is("phone", 1), is("bay-1", 1), { name: "by the bay" }), ruleOf(is("phone", 1), allOf(is("mira", 1), is("bay-1", 1)), { name: "by both" })];
    expect(notesOf({ mira: "" }, {}, rules)[0]).toMatch(/Where it decides whether “unlock on arrival” or “by both” was right, nobody can tell\.$/);
  });

  it("are silent where anything at all is known", () => {
    expect(notesOf({ "bay-1": "10 off, 11 ?" }, {})).toEqual([]);
  });

  it("stand in the findings and in the report", async () => {
    const more = tinySite
      .replace("bays: { bay: {} }", "bays: { bay: {}, spare: {} }")
      .replace("\nrules:", "\n  spare-eye: { on: spare, source: log, channel: spare-eye, kind: contact, occupied: [in], empty: [out] }\nrules:");
    const folder = await folderWith({ "site.yaml": more, "log.csv": tinyLog() });
    const around = listening(folder);
    expect(await runProgram(["audit", "site.yaml", "--out", "whole", "--quiet"], around), around.told()).toBe(3);
    const { notes, episodes, bays } = findingsSchema.parse(JSON.parse(await readFile(join(folder, "whole", "findings.json"), "utf8")));
    const note = "Nothing is known of spare at any time: its only signal, spare-eye, was unknown throughout, and the diary does not say. So its signal could not be judged, and no visit, false report or missed change could be found; that does not mean there was none.";
    expect(notes.some((one) => one.startsWith(note))).toBe(true);
    expect(await readFile(join(folder, "whole", "report.html"), "utf8")).toContain(note);
    expect(episodes.filter(({ subjects }) => subjects.includes("bay")).length).toBeGreaterThan(10);
    expect(bays.find(({ bay }) => bay === "spare")?.occupiedShare).toBeNull();
  });
});
