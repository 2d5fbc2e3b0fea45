import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { type Drawings, mostFaulty } from "../drawings.js";
import { countText } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";

/** Each bay compared with the others: does one need a visit? */
export function Bays({ findings, drawings }: { findings: Findings; drawings: Pick<Drawings, "bays"> }): JSX.Element {
  const { bays } = findings;
  const rows = rowsAt(whole(findings), "bays");
  const out = bays.filter((bay) => bay.faults.standsOut);
  const compared = bays.some((bay) => bay.faults.expected !== null);
  const stand = out.length === 1 ? "stands" : "stand";
  return (
    <>
      <p>
        {compared
          ? out.length === 0
            ? "No bay stands out: the differences below are what chance alone brings."
            : `${countText(out.length)} of ${countText(bays.length)} ${stand} out, beyond what chance alone brings.`
          : "There are too few bays to say that one is the odd one. Faults are changes that were missed or did not happen."}
      </p>
      {compared ? <Faults findings={findings} drawings={drawings} /> : null}
      <DataTable
        id="bays-use"
        sorts
        caption="Use of each bay, and how well its signals told of it"
        rows={rows}
        columns={[
          {
            head: "Bay",
            cell: (bay) => (
              <>
                <Name of={bay.of.bay} />
                <small>
                  <Datum at={bay} path="vehicle" as="name" none="no vehicle named" />; <Datum at={bay} path="signals" as="size" />{" "}
                  {bay.of.signals.length === 1 ? "signal" : "signals"}
                </small>
              </>
            ),
          },
          { head: "Arrivals", path: "arrivals", as: "count" },
          { head: "Departures", path: "departures", as: "count" },
          ...(compared ? [] : [{ head: "Faults", path: "faults.count" as const, as: "count" as const }]),
          { head: "Occupied", path: "occupiedShare", as: "share", none: "nobody could tell" },
          { head: "Agreeing", path: "agreement", as: "figure" },
          { head: "Visits missed", path: "missedShare", as: "figure" },
          { head: "Phantoms per 30 days", path: "phantomRate", as: "figure without unit" },
          { head: "Known", path: "knownShare", as: "share" },
        ]}
      />
    </>
  );
}

/** What was counted at each bay against what the others lead one to expect. */
function Faults({ findings, drawings }: { findings: Findings; drawings: Pick<Drawings, "bays"> }): JSX.Element {
  const { bays } = findings;
  const shown = mostFaulty(bays);
  return (
    <>
      <Picture id="bays-caption" drawing={drawings.bays}>
        Faults of each bay: dot what was counted, tick what the other bays lead one to expect, bar the control limits; a diamond stands out.
        {shown.length < bays.length ? ` Shown are the ${shown.length} bays with most faults.` : ""} The numbers stand in the table below.
      </Picture>
      <DataTable
        id="bays-faults"
        sorts
        caption="Faults (missed and phantom transitions) against what the other bays lead one to expect"
        rows={rowsAt(whole(findings), "bays")}
        columns={[
          { head: "Bay", path: "bay", as: "name" },
          { head: "Stands out", cell: ({ of: { faults } }) => <StandsOut out={faults.standsOut} compared={faults.expected !== null} /> },
          { head: "Faults", path: "faults.count", as: "count" },
          { head: "Expected", path: "faults.expected", as: "amount" },
          {
            head: "Control limits",
            look: "number",
            cell: (bay) =>
              bay.of.faults.controlLow === null || bay.of.faults.controlHigh === null ? (
                "none"
              ) : (
                <>
                  <Datum at={bay} path="faults.controlLow" as="count" />–<Datum at={bay} path="faults.controlHigh" as="count" />
                </>
              ),
          },
          { head: "p", path: "faults.pValue", as: "probability" },
          { head: "p, adjusted", path: "faults.adjustedPValue", as: "probability" },
        ]}
      />
    </>
  );
}

function StandsOut({ out, compared }: { out: boolean; compared: boolean }): JSX.Element {
  if (!out) return <>{compared ? "no" : "not compared"}</>;
  return (
    <strong class="effect breaks">
      <Mark sense="breaks" /> yes
    </strong>
  );
}
