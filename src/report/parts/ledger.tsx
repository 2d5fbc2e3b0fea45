import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { amountText, countOf, countText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

type Row = Findings["ledger"][number];
type Count = { [Key in keyof Row]: Row[Key] extends number ? Key : never }[keyof Row];

/** What became of every row that was read. */
export function Ledger({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  const { ledger, diary } = findings;
  return (
    <Section id="ledger" heading={partHeadings.ledger}>
      {ledger.length === 0 ? <p>No file was read.</p> : <Rows ledger={ledger} clock={clock} />}
      <p>
        {diary.entries === 0
          ? "There is no diary, so nothing here was confirmed by a person."
          : `The diary has ${countOf(diary.entries, "entry", "entries")} for this period, ${amountText(diary.hours)} hours in all.`}
      </p>
    </Section>
  );
}

function Rows({ ledger, clock }: { ledger: readonly Row[]; clock: LocalClock }): JSX.Element {
  const total = (count: Count): number => ledger.reduce((sum, row) => sum + row[count], 0);
  const adrift = ledger.filter((row) => row.read !== row.accepted + row.duplicate + row.setAside);
  const kinds = ["read", "accepted", "duplicate", "setAside", "missingCells", "unreadableCells", "repeatedHourRows", "shiftedRows", "outOfOrderRows"] as const;
  const reasons = ledger.flatMap((row, index) => row.reasons.map((reason, at) => ({ ...reason, file: row.file, path: `ledger.${index}.reasons.${at}` })));
  return (
    <>
      {adrift.length === 0 ? (
        <p>
          Every one of {countText(total("read"))} rows is accounted for: {countText(total("accepted"))} accepted, {countText(total("duplicate"))} duplicate,{" "}
          {countText(total("setAside"))} set aside.
        </p>
      ) : (
        <p>
          <strong class="effect breaks">
            <Mark sense="breaks" /> The ledger does not add up for {countOf(adrift.length, "file")}.
          </strong>{" "}
          Rows were lost or counted twice; do not rely on this report.
        </p>
      )}
      <DataTable
        id="ledger-files"
        caption="Rows and cells of each file"
        columns={[
          words("File"),
          numbers("Read"),
          numbers("Accepted"),
          numbers("Duplicate"),
          numbers("Set aside"),
          numbers("Empty cells"),
          numbers("Unreadable cells"),
          numbers("In the repeated hour"),
          numbers("Shifted"),
          numbers("Out of order"),
          words("First and last"),
        ]}
        rows={ledger.map((row, index) => [
          <>
            <Name of={row.file} />
            <small>
              source <Name of={row.source} />
            </small>
          </>,
          ...kinds.map((kind) => <Datum of={row[kind]} from={`ledger.${index}.${kind}`} as="count" />),
          row.first === null || row.last === null ? (
            "no time known"
          ) : (
            <small>
              <LocalTime at={row.first} clock={clock} /> to <LocalTime at={row.last} clock={clock} />
            </small>
          ),
        ])}
        total={["All files", ...kinds.map((kind) => <Datum of={ledger.map((row) => row[kind])} from={`ledger.*.${kind}`} as="sum" />), ""]}
      />
      {reasons.length === 0 ? null : (
        <DataTable
          id="ledger-reasons" stacks
          caption="Why rows and cells were set aside"
          columns={[prose("Reason"), words("File"), numbers("Count")]}
          rows={reasons.map(({ reason, count, file, path }) => [reason, <Name of={file} />, <Datum of={count} from={`${path}.count`} as="count" />])}
        />
      )}
    </>
  );
}
