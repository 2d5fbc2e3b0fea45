import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { range } from "d3-array";
import { auditSite, loadSite, type Findings } from "../../../src/index.js";
import { limitsFor, longRunOf, monthSpan, withinOf, type LongRun, type Setting } from "../verdict/limits.js";
import { between, chanceNamed, type Chance } from "../verdict/random.js";
import { filesOf } from "../verdict/site-text.js";
import type { World } from "../verdict/world.js";
import type { Month } from "./months.js";
import { earlierTable } from "./earlier-table.js";
import { answerOf, filledIn, type Memory, type Row } from "./person.js";

/** Nobody answers more. */
const MOST_ASKED = 80;

/** Limits that a month without a fault can meet, if enough of it is told. */
function wideLimits(chance: Chance): { readonly wrongPerYear: number; readonly missedShare: number } {
  return { wrongPerYear: between(chance, 250, 500), missedShare: 0.3 };
}

/** What asking came to in one month. */
export interface Asked {
  /** Before anything was asked, and once nothing more could change it. */
  readonly before: string;
  readonly after: string;
  readonly asked: number;
}

/** The same month with three ways of asking; the earlier ones are null where they were not tried. */
export interface MonthResult {
  readonly now: Asked;
  /** Rows of the table that was asked before: in its order, and in random order, until nothing more could change the verdict. */
  readonly table: number | null;
  readonly random: number | null;
}

/** How the rule of a sort of month truly does. */
export function truthOf(month: Month): LongRun {
  return longRunOf({ ...month, truly: "", mild: true });
}

/** Asks about one month, number `unit`, as long as answers can change the verdict. */
export async function runMonth(month: Month, truth: LongRun, setting: Setting, unit: number, memory: Memory, alsoBefore: boolean): Promise<MonthResult> {
  const name = `questions/${month.id}/${setting}/${unit}`;
  const world = month.build(chanceNamed(name), monthSpan(0), { faulty: setting !== "sound", seen: true, month: 0 });
  const withinMs = withinOf(world.rule);
  const limits = month.breaks === null || setting === "sound" ? { ...wideLimits(chanceNamed(`${name}/limits`)), withinMs } : limitsFor({ ...month, truly: "", mild: true }, truth, setting, withinMs);
  const folder = await mkdtemp(join(tmpdir(), "question-study-"));
  try {
    for (const [file, text] of filesOf(world, limits)) await writeFile(join(folder, file), text);
    const audited = (rows: readonly Row[]): Promise<Findings> => auditWith(folder, world, limits, rows);
    const now = await askedNow(audited, world, chanceNamed(`${name}/answers`), memory);
    if (!alsoBefore) return { now, table: null, random: null };
    const first = await audited([]);
    const table = earlierTable(first, world);
    return { now, table: await rowsUntilSettled(audited, world, table), random: await rowsUntilSettled(audited, world, shuffled(table, chanceNamed(`${name}/order`))) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function auditWith(folder: string, world: World, limits: Parameters<typeof filesOf>[1], rows: readonly Row[]): Promise<Findings> {
  const diary = filesOf(world, limits).get("diary.csv") ?? "subject,state,from,to\n";
  const stamp = (at: number): string => new Date(at).toISOString();
  await writeFile(join(folder, "diary.csv"), `${diary}${rows.map(({ subject, state, from, to }) => `${subject},${state},${stamp(from)},${stamp(to)}\n`).join("")}`);
  return auditSite(await loadSite(join(folder, "site.yaml")), { period: { form: "all" }, madeAt: 0 });
}

const verdictOf = (findings: Findings): string => findings.rules[0]?.verdict ?? "";

async function askedNow(audited: (rows: readonly Row[]) => Promise<Findings>, world: World, chance: Chance, memory: Memory): Promise<Asked> {
  let findings = await audited([]);
  const before = verdictOf(findings);
  const rows: Row[] = [];
  let asked = 0;
  for (;;) {
    const [question] = findings.questions.list;
    if (question === undefined || asked === MOST_ASKED) return { before, after: verdictOf(findings), asked };
    asked += 1;
    rows.push(...answerOf(question, world, chance, memory));
    findings = await audited(rows);
  }
}

/** The fewest first rows of the table after which no answer can change the verdict; all of them if none are enough. */
async function rowsUntilSettled(audited: (rows: readonly Row[]) => Promise<Findings>, world: World, table: readonly Omit<Row, "state">[]): Promise<number> {
  const settledBy = async (count: number): Promise<boolean> => (await audited(filledIn(table.slice(0, count), world))).questions.list.length === 0;
  if (await settledBy(0)) return 0;
  let [low, high] = [1, table.length];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (await settledBy(middle)) high = middle;
    else low = middle + 1;
  }
  return high;
}

function shuffled<T>(list: readonly T[], chance: Chance): T[] {
  const drawn = new Map(range(list.length).map((i) => [i, chance()]));
  return range(list.length).toSorted((a, b) => (drawn.get(a) ?? 0) - (drawn.get(b) ?? 0)).flatMap((i) => list.slice(i, i + 1));
}
