import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { Drawing } from "../charts/drawing.js";
import { countOf } from "../format.js";
import { rowsAt, type TracedRow, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";

type Change = TracedRow<Findings["changes"][number]>;

/** What became different within the period, with a picture of each. */
export function Changes({ findings, drawings }: { findings: Findings; drawings: readonly (Drawing | null)[] }): JSX.Element {
  const found = rowsAt(whole(findings), "changes").filter(({ of }) => of.changed);
  const looked = findings.changes.filter((change) => change.pValue !== null).length;
  return (
    <>
      <DataTable
        id="upkeep-changes"
        stacks
        caption={`What changed, of ${countOf(looked, "series", "series")} looked at`}
        rows={found}
        columns={[
          { head: "Signal", path: "signal", as: "name" },
          { head: "What", path: "what", as: "text" },
          { head: "Since", path: "since", as: "time", none: "" },
          { head: "Before", look: "number", cell: (change) => <Level change={change} when="before" /> },
          { head: "After", look: "number", cell: (change) => <Level change={change} when="after" /> },
          { head: "Adjusted p", path: "adjustedPValue", as: "probability", none: "" },
        ]}
      />
      {found.map((change) => (
        <ChangePicture change={change} drawing={drawings[change.index] ?? null} />
      ))}
    </>
  );
}

/** The picture, and the same in words. */
function ChangePicture({ change: { of, index }, drawing }: { change: Change; drawing: Drawing | null }): JSX.Element | null {
  if (of.chart === null) return null;
  const { outside, runs } = of.chart;
  return (
    <Picture id={`change-${index + 1}-caption`} drawing={drawing}>
      <Name of={of.signal} />, {of.what}, day by day: shaded the control limits about their centre, a diamond a day outside them, dashes the
      level before and after
      {of.since === null ? null : (
        <>
          {" "}
          <LocalTime at={of.since} />
        </>
      )}
      . Of {countOf(of.points.length, "day")}, {outside} {outside === 1 ? "is" : "are"} outside the limits and {runs} in a run on one side
      of the centre.
    </Picture>
  );
}

function Level({ change, when }: { change: Change; when: "before" | "after" }): JSX.Element {
  const { unit } = change.of;
  if (change.of[when] === null) return <>unknown</>;
  if (unit === "share") return <Datum at={change} path={when} as="share" />;
  return (
    <>
      <Datum at={change} path={when} as={unit === "metres" ? "centimetres" : "amount"} /> {unit === "metres" ? "cm" : "s"}
    </>
  );
}
