/**
 * How good is the reference of a home with door contacts and one-sided sensors? `npm run study:homes` makes months of homes whose
 * truth is known and writes the tables of docs/study-reference.md to standard output (`-- 10` takes 10 months a home).
 */
import { chanceNamed } from "./verdict/random.js";
import { homeKinds } from "./homes/kinds.js";
import { liveIn } from "./homes/life.js";
import { judgeHome, measureHome, nothingMeasured } from "./homes/measure.js";
import { exportHome, type Exported } from "./homes/sensors.js";
import { reliabilityTable, turnsTable, untoldText, verdictTable, type Row } from "./homes/tables.js";

const MONTHS = Number(process.argv[2] ?? 20);
const only = process.argv[3];
const DAYS = 30;
const DIARY_DAYS = [0, 10];

const rows: Row[] = [];
for (const kind of homeKinds.filter(({ id }) => only === undefined || id === only)) {
  for (const diaryDays of DIARY_DAYS) {
    const measured = nothingMeasured();
    const judged: Row["judged"][number][] = [];
    for (let month = 0; month < MONTHS; month += 1) {
      const home = homeOf(kind.id, month, diaryDays);
      await measureHome(home, measured);
      if (month < Math.ceil(MONTHS / 4)) judged.push(...(await judgeHome(home)));
    }
    rows.push({ home: kind.id, diaryDays, months: MONTHS, measured, judged });
    process.stderr.write(`${kind.id}, ${diaryDays} days of diary\n`);
  }
}
process.stdout.write(`${MONTHS} months of ${DAYS} days a row.\n\n${turnsTable(rows)}\n\n${untoldText(rows)}\n\n${reliabilityTable(rows)}\n\n${verdictTable(rows)}\n`);

/** The same month with and without its diary. */
function homeOf(id: string, month: number, diaryDays: number): Exported {
  const kind = homeKinds.find((one) => one.id === id)!;
  const chance = chanceNamed(`home ${id} ${month}`);
  return exportHome(kind, liveIn(kind, DAYS, chance), diaryDays, chance);
}
