import { sum } from "d3-array";
import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { weekCells } from "../charts/week-grid.js";
import type { Drawings } from "../drawings.js";
import { amountText, countText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LeftOut, MOST_TABLED } from "./folded.js";
import { useClock } from "./local-time.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";

/** Windows shown for each subject; findings.json lists more. */
const SHOWN = 3;

/** Where signals contradicted each other, the reference without them, or the diary: longest first. */
export function Disagreements({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  const { disagreements, diary } = findings;
  const at = whole(findings);
  const clock = useClock();
  const longest = rowsAt(at, "disagreements.*.list").filter(({ index, above }) => index < SHOWN && above.index < MOST_TABLED);
  return (
    <>
      <DataTable
        id="disagreements-subjects"
        caption="How often the signals of a subject said different things"
        rows={rowsAt(at, "disagreements").slice(0, MOST_TABLED)}
        columns={[
          { head: "Subject", path: "subject", as: "name" },
          { head: "Times", path: "count", as: "count" },
          { head: "Of these within a minute", path: "brief", as: "count" },
          { head: "Hours in all", path: "hours", as: "amount" },
        ]}
      />
      <DataTable
        id="disagreements-longest"
        stacks
        caption={`The longest, at most ${SHOWN} a subject`}
        rows={longest}
        columns={[
          { head: "Subject", path: "^.subject", as: "name" },
          { head: "From", path: "from", as: "time" },
          { head: "For", path: "", as: "span" },
          { head: "Said on", path: "saidOn", as: "names" },
          { head: "Said off", path: "saidOff", as: "names" },
          { head: "Most likely", path: "reference", as: "text" },
        ]}
      />
      <LeftOut count={disagreements.length - MOST_TABLED} file="findings.json" />
      <DataTable
        id="disagreements-pairs"
        stacks
        caption="Two sensors that differ, and nobody else to tell which is wrong: one of the two has a fault, and neither is charged with it"
        rows={rowsAt(at, "disagreements.*.pairs").filter(({ of }) => of.count > 0)}
        columns={[
          { head: "Subject", path: "^.subject", as: "name" },
          { head: "Sensors", path: "signals", as: "names" },
          { head: "Times", path: "count", as: "count" },
          { head: "Hours", path: "hours", as: "amount" },
          { head: "In 30 days", path: "perMonth", as: "figure without unit" },
        ]}
        cut={{ most: MOST_TABLED, file: "findings.json" }}
      />
      <Picture id="week-caption" drawing={drawings.week}>
        Phantoms and missed turns of all signals by hour and day of the week, in the site’s time: the larger the square, the more.{" "}
        {weekText(findings, clock)}
      </Picture>
      {diary.conflicts.count === 0 ? null : (
        <>
          <h3>Against the diary</h3>
          <DataTable
            id="disagreements-diary"
            stacks
            caption={
              <>
                Signals against the diary, beyond lag: {countText(diary.conflicts.count)} times, {amountText(diary.conflicts.hours)} h; the
                longest. Either may be mistaken.
              </>
            }
            rows={rowsAt(at, "diary.conflicts.list").slice(0, 3 * SHOWN)}
            columns={[
              { head: "Signal", path: "signal", as: "name" },
              { head: "Said", path: "said", as: "text" },
              { head: "From", path: "from", as: "time" },
              { head: "For", path: "", as: "span" },
              {
                head: "Diary entry",
                cell: (conflict) => (
                  <>
                    <Name of={conflict.of.file} />, line <Datum at={conflict} path="line" as="count" />
                  </>
                ),
              },
            ]}
          />
        </>
      )}
    </>
  );
}

/** The picture in words: how many, and the hours that hold most of them. */
function weekText(findings: Findings, clock: LocalClock): string {
  const cells = weekCells(findings, clock);
  const most = cells.toSorted((a, b) => b.count - a.count).slice(0, SHOWN);
  const told = most.map(
    ({ day, hour, count }) => `${clock.weekdays[day]?.long ?? ""} from ${String(hour).padStart(2, "0")}:00 (${countText(count)})`,
  );
  return `${countText(sum(cells, ({ count }) => count))} in all; most in the hours of ${told.join(", ")}.`;
}
