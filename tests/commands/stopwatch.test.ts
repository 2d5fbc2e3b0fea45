import { expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { makeStopwatch } from "../../src/commands/stopwatch.js";
import { auditSteps } from "../../src/ground/audit-steps.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

it("tells what each step cost, one that came twice once, and the whole", () => {
  let now = { ms: 500, processorMs: 400, peakMegabytes: 90 };
  const watch = makeStopwatch(() => now);
  const later = (ms: number, processorMs: number, peakMegabytes: number): void => void (now = { ms: now.ms + ms, processorMs: now.processorMs + processorMs, peakMegabytes });
  watch.begin("reading");
  later(2_000, 3_500, 120);
  watch.begin("judging");
  later(1_000, 900, 140);
  watch.begin("drills");
  later(500, 400, 140);
  watch.begin("judging");
  later(1_000, 1_000, 150);
  expect(watch.table()).toBe(
    [
      "step                    time  share  processor    memory",
      "starting              0.50 s   10 %     0.40 s     90 MB",
      "reading               2.00 s   40 %     3.50 s    120 MB",
      "judging               2.00 s   40 %     1.90 s    150 MB",
      "drills                0.50 s   10 %     0.40 s    140 MB",
      "the whole             5.00 s  100 %     6.20 s    150 MB",
      "",
    ].join("\n"),
  );
});

it("tells of an audit that has read, judged and drawn, step by step, and the shares make up the whole", async () => {
  const around = listening(await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() }));
  await runProgram(["audit", "site.yaml", "--quiet", "--timings"], around);
  const rows = around.told().trimEnd().split("\n").slice(1).map((line) => /^(.+?)\s+([\d.]+) s\s+(\d+) %\s+([\d.]+) s\s+(\d+) MB$/.exec(line)!);
  expect(rows.map(([, step]) => step)).toEqual([...auditSteps, "the whole"]);
  const whole = rows.at(-1)!;
  const sumOf = (column: number): number => rows.slice(0, -1).reduce((sum, row) => sum + Number(row[column]), 0);
  // Each line is rounded by itself.
  expect(sumOf(2)).toBeCloseTo(Number(whole[2]), 0);
  expect(Math.abs(sumOf(3) - 100)).toBeLessThanOrEqual(auditSteps.length / 2);
  expect(sumOf(4)).toBeCloseTo(Number(whole[4]), 0);
  expect(around.said()).toBe("");
});

it("says nothing of time unless it is asked to", async () => {
  const around = listening(await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() }));
  await runProgram(["audit", "site.yaml", "--quiet"], around);
  expect(around.told()).toBe("");
});
