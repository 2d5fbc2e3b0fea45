import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { amountText, countText } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LeftOut, MOST_TABLED } from "./folded.js";
import { Name } from "./name.js";

/** Windows shown for each subject; findings.json lists more. */
const SHOWN = 3;

/** Where signals contradicted each other, the reference without them, or the diary: longest first. */
export function Disagreements({ findings }: { findings: Findings }): JSX.Element {
  const { disagreements, diary } = findings;
  const at = whole(findings);
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
