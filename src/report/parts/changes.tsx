import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawing } from "../drawings.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { Centimetres } from "./centimetres.js";
import { Chart } from "./chart.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";

type Change = Findings["changes"][number];

/** What became different within the period, with a picture of each. */
export function Changes({ changes, drawings, clock }: { changes: Findings["changes"]; drawings: readonly (Drawing | null)[]; clock: LocalClock }): JSX.Element {
  const found = changes.map((change, index) => ({ ...change, at: index, path: `changes.${index}` })).filter((change) => change.changed);
  const looked = changes.filter((change) => change.pValue !== null).length;
  if (found.length === 0) return <p>No signal changed within the period, of {countOf(looked, "series", "series")} looked at.</p>;
  return (
    <>
      <DataTable
        id="upkeep-changes" stacks
        caption={`What changed, of ${countOf(looked, "series", "series")} looked at`}
        columns={[words("Signal"), words("What"), words("Since"), numbers("Before"), numbers("After"), numbers("Adjusted p")]}
        rows={found.map((change) => [
          <Name of={change.signal} />,
          change.what,
          change.since === null ? "" : <LocalTime at={change.since} clock={clock} />,
          <ChangeValue of={change} path={change.path} when="before" />,
          <ChangeValue of={change} path={change.path} when="after" />,
          change.adjustedPValue === null ? "" : <Datum of={change.adjustedPValue} from={`${change.path}.adjustedPValue`} as="probability" />,
        ])}
      />
      {found.map(({ at, ...change }) => (
        <ChangeFigure change={change} drawing={drawings[at] ?? null} id={`change-${at + 1}-caption`} clock={clock} />
      ))}
    </>
  );
}

/** The picture, and the same in words. */
function ChangeFigure({ change, drawing, id, clock }: { change: Change; drawing: Drawing | null; id: string; clock: LocalClock }): JSX.Element | null {
  if (drawing === null || change.chart === null) return null;
  const { outside, runs } = change.chart;
  return (
    <figure>
      <figcaption id={id}>
        <Name of={change.signal} />, {change.what}, day by day: shaded the control limits about their centre, a diamond a day outside them, dashes the level before and after
        {change.since === null ? null : (
          <>
            {" "}
            <LocalTime at={change.since} clock={clock} />
          </>
        )}
        . Of {countOf(change.points.length, "day")}, {outside} {outside === 1 ? "is" : "are"} outside the limits and {runs} in a run on one side of the centre.
      </figcaption>
      <Chart drawing={drawing} labelledBy={id} />
    </figure>
  );
}

function ChangeValue({ of, path, when }: { of: Change; path: string; when: "before" | "after" }): JSX.Element {
  const value = of[when];
  const from = `${path}.${when}`;
  if (value === null) return <>unknown</>;
  if (of.unit === "share") return <Datum of={value} from={from} as="share" />;
  return (
    <>
      {of.unit === "metres" ? <Centimetres of={value} from={from} /> : <Datum of={value} from={from} as="amount" />} {of.unit === "metres" ? "cm" : "s"}
    </>
  );
}
