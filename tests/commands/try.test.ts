import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { listening } from "./tiny-site.js";
import type { RuleFinding } from "../../src/result/rules.js";

const furtherRules = `rules:
  - name: unlock when both contacts tell of the door
    act: unlock
    when: { all: [ { signal: yard-door-rail, turned: open, within: 1min }, { signal: yard-door-hinge, is: open } ] }
  - name: unlock when the rail contact tells of the door
    act: unlock
    when: { signal: yard-door-rail, turned: open, within: 1min }
  - name: unlock when bay 1 is not empty
    act: unlock
    when: { not: { signal: bay-1-overhead, is: empty } }
  - name: unlock when bay 1 was taken
    act: unlock
    when: { signal: bay-1-overhead, turned: occupied, within: 2min }
`;

describe("audit --try on the sample household", () => {
  let findings: Findings;
  let report: string;
  let said: string;
  let status: number;
  beforeAll(async () => {
    const folder = await mkdtemp(join(tmpdir(), "keyworthy-try-"));
    await writeFile(join(folder, "more.yaml"), furtherRules);
    const around = listening(folder);
    status = await runProgram(["audit", resolve("sample-data/household/site.yaml"), "--try", "more.yaml", "--out", "result"], around);
    expect(around.told()).toBe("");
    said = around.said();
    findings = findingsSchema.parse(JSON.parse(await readFile(join(folder, "result", "findings.json"), "utf8")));
    report = await readFile(join(folder, "result", "report.html"), "utf8");
  });

  const tried = (name: string): RuleFinding => findings.tried.find((rule) => rule.name === name)!;
  const drill = (name: string, on: string): RuleFinding["drills"][number] => tried(name).drills.find((one) => one.name === on && one.fault === "restart")!;

  it("keeps the tried rules apart from the site's own", () => {
    expect(status).toBe(3);
    expect(findings.rules).toHaveLength(5);
    expect(findings.tried.map(({ name }) => name)).toHaveLength(4);
    expect(said).toContain("only tried:");
  });

  it("shows that dropping one of two contacts makes a single point of the other, and of its board, by name in the report", () => {
    expect(tried("unlock when both contacts tell of the door").singlePoints).toEqual({ signals: [], causes: [] });
    expect(tried("unlock when the rail contact tells of the door").singlePoints).toEqual({ signals: ["yard-door-rail"], causes: ["board-a"] });
    const row = /<th scope="row"[^>]*><bdi>unlock when the rail contact tells of the door<\/bdi>[\s\S]*?<\/tr>/.exec(report)?.[0];
    expect(row).toContain('<bdi>yard-door-rail</bdi>, <bdi>board-a</bdi>');
  });

  it("catches the rule written as not empty by restarting its board, and finds nothing against the one that asks for a turn", () => {
    const naive = drill("unlock when bay 1 is not empty", "board-a");
    expect(naive.gained).toBeGreaterThan(100);
    expect(naive.wrongGained).toBeGreaterThan(10);
    expect(drill("unlock when bay 1 was taken", "board-a")).toMatchObject({ gained: 0, lost: 0 });
  });

  it("sees that a power cut while people are asleep makes the rule written as not empty unlock", () => {
    expect(tried("unlock when bay 1 is not empty").hostile).toContainEqual({
      scene: "a power cut and return", state: "people home asleep", unlocks: true, why: "30 s, all back at once: bay-1-overhead is empty (but this was false).",
    });
  });
});

describe("a wrong file of further rules", () => {
  it("ends with 2 and its line, before anything is read", async () => {
    const folder = await mkdtemp(join(tmpdir(), "keyworthy-try-"));
    await writeFile(join(folder, "more.yaml"), "rules:\n  - { name: odd, act: unlock, when: { signal: yard-dor-rail, is: open } }\n");
    const around = listening(folder);
    expect(await runProgram(["audit", resolve("sample-data/household/site.yaml"), "--try", "more.yaml"], around)).toBe(2);
    expect(around.told()).toMatch(/more\.yaml:2:47: "yard-dor-rail" is not a signal of this site\..*did you mean "yard-door-rail"\?/);
  });
});
