import { sum } from "d3-array";
import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { amountText, countOf, countText } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

/** What is counted of each file, with the head of its column. */
const counts = [
  ["Read", "read"],
  ["Accepted", "accepted"],
  ["Duplicate", "duplicate"],
  ["Set aside", "setAside"],
  ["Empty cells", "missingCells"],
  ["Unreadable cells", "unreadableCells"],
  ["In the repeated hour", "repeatedHourRows"],
  ["Shifted", "shiftedRows"],
  ["Out of order", "outOfOrderRows"],
] as const;

/** What became of every row that was read. */
export function Ledger({ findings }: { findings: Findings }): JSX.Element {
  const { diary } = findings;
  const at = whole(findings);
  const ledger = rowsAt(at, "ledger");
  return (
    <>
      {ledger.length === 0 ? <p>No file was read.</p> : <Balance ledger={findings.ledger} />}
      <DataTable
        id="ledger-files"
        caption="Rows and cells of each file"
        rows={ledger}
        columns={[
          {
            head: "File",
            cell: ({ of }) => (
              <>
                <Name of={of.file} />
                <small>
                  source <Name of={of.source} />
                </small>
              </>
            ),
            total: "All files",
          },
          ...counts.map(
            ([head, path]) => ({ head, path, as: "count", total: <Datum at={at} path={`ledger.*.${path}`} as="sum" /> }) as const,
          ),
          {
            head: "First and last",
            cell: ({ of: { first, last } }) =>
              first === null || last === null ? (
                "no time known"
              ) : (
                <small>
                  <LocalTime at={first} /> to <LocalTime at={last} />
                </small>
              ),
          },
        ]}
      />
      <DataTable
        id="ledger-reasons"
        stacks
        caption="Why rows and cells were set aside"
        rows={rowsAt(at, "ledger.*.reasons")}
        columns={[
          { head: "Reason", path: "reason", as: "text", look: "prose" },
          { head: "File", path: "^.file", as: "name" },
          { head: "Count", path: "count", as: "count" },
        ]}
      />
      <p>
        {diary.entries === 0
          ? "There is no diary, so nothing here was confirmed by a person."
          : `The diary has ${countOf(diary.entries, "entry", "entries")} for this period, ${amountText(diary.hours)} hours in all.`}
      </p>
    </>
  );
}

/** Whether every row that was read is accounted for. */
function Balance({ ledger }: Pick<Findings, "ledger">): JSX.Element {
  const adrift = ledger.filter((row) => row.read !== row.accepted + row.duplicate + row.setAside);
  const total = (count: "read" | "accepted" | "duplicate" | "setAside"): string => countText(sum(ledger, (row) => row[count]));
  if (adrift.length === 0) {
    return (
      <p>
        Every one of {total("read")} rows is accounted for: {total("accepted")} accepted, {total("duplicate")} duplicate,{" "}
        {total("setAside")} set aside.
      </p>
    );
  }
  return (
    <p>
      <strong class="effect breaks">
        <Mark sense="breaks" /> The ledger does not add up for {countOf(adrift.length, "file")}.
      </strong>{" "}
      Rows were lost or counted twice; do not rely on this report.
    </p>
  );
}
