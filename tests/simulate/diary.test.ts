import { parse } from "csv-parse/sync";
import { expect, test } from "vitest";
import { parseScenario } from "../../src/simulate/scenario.js";
import { runScenario } from "../../src/simulate/run.js";
import { yearScenarioText } from "./year-scenario.js";

const month = { "to: 2027-01-01": "to: 2026-04-20", "from: 2026-01-01": "from: 2026-03-20" };
const rowsOf = (text: string): Record<string, string>[] => parse(text, { columns: true });

test("the true diary tells every subject's state, without gap, over the whole exports", () => {
  const { files, planted } = runScenario(parseScenario(yearScenarioText(month), "s.yaml"));
  const rows = rowsOf(files.get("diary-true.csv")!);
  for (const subject of ["ada", "bay-1", "barn-door"]) {
    const own = rows.filter((row) => row.subject === subject);
    expect(own.length).toBe(planted.truth.get(subject)!.times.length);
    expect(Date.parse(own[0]!.from!)).toBe(planted.exports.from);
    expect(Date.parse(own.at(-1)!.to!)).toBe(planted.exports.to);
    expect(own.slice(1).every((row, i) => row.from === own[i]!.to && row.state !== own[i]!.state)).toBe(true);
  }
  expect(new Set(rows.map(({ state }) => state))).toEqual(new Set(["here", "away", "occupied", "empty", "open", "closed"]));
});

test("a kept diary ends when the writer stopped, and holds only what was kept", () => {
  const kept = yearScenarioText({ ...month, "site:\n": "diary: { kept: { days: 9, subjects: [ada] } }\nsite:\n" });
  const { files, planted } = runScenario(parseScenario(kept, "s.yaml"));
  const rows = rowsOf(files.get("diary-kept.csv")!);
  expect(new Set(rows.map(({ subject }) => subject))).toEqual(new Set(["ada"]));
  expect(Date.parse(rows[0]!.from!)).toBe(planted.period.from);
  // Nine local days from 20 March; the clocks change two hours later.
  expect(rows.at(-1)!.to).toBe("2026-03-29T00:00:00+01:00");
});
