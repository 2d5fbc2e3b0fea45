import { describe, expect, it } from "vitest";
import { askOpen, type DraftAsker } from "../../src/commands/draft/ask.js";
import { draftSite } from "../../src/draft/draft-site.js";
import type { DraftQuestion } from "../../src/draft/questions.js";
import { parseSite } from "../../src/site/parse.js";
import { iso, meterRows, sample } from "./invented-exports.js";

const HOUR = 3_600_000;
const start = Date.UTC(2026, 5, 1, 12);
const turns = (channel: string, on: string, off: string, everyHours: number) =>
  Array.from({ length: 40 }, (_, i) => [`${iso(start + i * everyHours * HOUR)},${channel},${on}`, `${iso(start + i * everyHours * HOUR + 60_000)},${channel},${off}`]).flat();
const log = ["stamp,channel,reading", ...meterRows([{ channel: "bay 1", bay: 1, near: 4.2, far: 8.1 }]), ...turns("gate", "ON", "OFF", 5), ...turns("zz", "ON", "OFF", 3), ...turns("hall light", "ON", "OFF", 2)].join("\n");

/** Asks with scripted answers; what is not in the script is left for later. */
async function asked(script: Readonly<Record<string, string>>) {
  const put: DraftQuestion[] = [];
  const asker: DraftAsker = {
    begin: () => undefined,
    ask: (question) => {
      put.push(question);
      const answer = script[question.id];
      return Promise.resolve(answer === undefined ? { does: "later" } : answer === "(stop)" ? { does: "stop" } : { does: "answer", answer });
    },
  };
  const draftWith = (answers: ReadonlyMap<string, string>) => draftSite([sample("log.csv", log)], { site: "s", file: "site.yaml" }, answers);
  const draft = await askOpen(draftWith(new Map()), draftWith, asker, () => "");
  return { put, draft };
}

describe("the questions of a draft", () => {
  it("come in order, each once, with what blocks loading told apart from what would be nice", async () => {
    const { put, draft } = await asked({});
    expect(put.map(({ id, weight }) => `${id} ${weight}`)).toEqual(["leave-out offer", "timezone blocks", "on:gate blocks", "rules offer"]);
    expect(put[0]?.text).toBe("2 sensors seem to say nothing about a bay, a door or a person: zz, hall light. Leave them out?");
    expect(put[2]?.text).toMatch(/^signal gate: which of "ON" and "OFF" means open\? It said "ON" 40 times, for less than 1 % of the time$/);
    expect(draft.yaml).toContain("# 2 things are left open: search for FILL IN. The file does not load before they are filled in.");
  });

  it("write the answers into the file, which then loads as it is", async () => {
    const { draft } = await asked({ timezone: "Europe/Madrid", "on:gate": "OFF", rules: "unlock", "limit:unlock": "once a year" });
    expect(draft.problems).toEqual([]);
    expect(draft.open).toEqual([]);
    const site = parseSite(draft.yaml, "site.yaml", "");
    expect(site.timeZone).toBe("Europe/Madrid");
    expect(site.signals.find(({ id }) => id === "gate")?.reading).toEqual({ form: "words", on: ["OFF"], off: ["ON"] });
    expect(site.rules.map(({ name }) => name)).toEqual(["unlock on arrival"]);
    expect(site.limits.unlock?.wrongPerYear).toBe(1);
    expect(site.limits.lock).toBeUndefined();
  });

  it("that an answer raises are put in the next round: each sensor that was left out, then its words", async () => {
    const { put, draft } = await asked({ "leave-out": "each", "watches:zz": "door", "on:zz": "ON", timezone: "UTC", "on:gate": "ON" });
    expect(put.map(({ id }) => id).slice(4)).toEqual(["watches:zz", "watches:hall-light", "on:zz"]);
    expect(parseSite(draft.yaml, "site.yaml", "").signals.map(({ id, subject }) => `${id} ${subject}`)).toEqual(["bay-1 bay-1", "gate gate", "zz door-2"]);
  });

  it("stop where the person stops, and keep what was answered", async () => {
    const { put, draft } = await asked({ timezone: "Europe/Paris", "on:gate": "(stop)" });
    expect(put.map(({ id }) => id)).toEqual(["leave-out", "timezone", "on:gate"]);
    expect(draft.yaml).toContain("timezone: Europe/Paris");
    expect(draft.open).toHaveLength(1);
  });

  it("take a zone only if there is one", async () => {
    const { put } = await asked({});
    const { typed } = put.find(({ id }) => id === "timezone")!;
    expect([typed?.fits("Europe/Lisbon"), typed?.fits("Lisbon time")]).toEqual([true, false]);
  });
});

describe("the rules that a draft proposes", () => {
  const people = ["when,tom", ...Array.from({ length: 30 }, (_, i) => `${iso(start + i * 6 * HOUR)},${i % 2 === 0 ? "home" : "not_home"}`)].join("\n");
  const doors = ["stamp,channel,reading", ...turns("door", "open", "closed", 5)].join("\n");
  const bays = ["stamp,channel,reading", ...meterRows([{ channel: "bay 1", bay: 1, near: 4.2, far: 8.1 }])].join("\n");
  const all = new Map([["timezone", "UTC"], ["rules", "unlock lock"], ["limit:unlock", "once in 2 years"], ["limit:lock", "6 times a year"]]);
  const draft = (files: Readonly<Record<string, string>>) => draftSite(Object.entries(files).map(([name, text]) => sample(name, text)), { site: "s", file: "site.yaml" }, all);

  it.each([
    ["people", { "people.csv": people }],
    ["bays", { "bays.csv": bays }],
    ["bays and doors", { "bays.csv": bays, "doors.csv": doors }],
    ["people and doors", { "people.csv": people, "doors.csv": doors }],
    ["people, bays and doors", { "people.csv": people, "bays.csv": bays, "doors.csv": doors }],
  ])("load for a home with %s", (_, files) => {
    const found = draft(files);
    expect(found.problems).toEqual([]);
    expect(parseSite(found.yaml, "site.yaml", "").rules).toHaveLength(2);
  });

  it("are none where there are only doors, and the file says so first", () => {
    const found = draft({ "doors.csv": doors });
    expect(found.yaml.split("\n")[1]).toBe("# Note first: no person and no bay was found: a rule that unlocks or locks needs one of them to be judged by. Add the export of a phone or of a bay's sensor.");
    expect(found.yaml).not.toContain("rules:\n");
    expect(found.questions.map(({ id }) => id)).toEqual([]);
  });
});
