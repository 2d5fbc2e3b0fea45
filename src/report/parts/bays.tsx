import type { JSX } from "preact";
import type { BayScore, Findings } from "../../findings/schema.js";
import type { Drawing } from "../drawings.js";
import { amountText, countText, shareText } from "../format.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { FigureText } from "./figure-text.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** Each bay among its fellows: does one of them need a visit? */
export function Bays({ findings, chart }: { findings: Findings; chart: Drawing | null }): JSX.Element {
  const { bays } = findings;
  const out = bays.filter((bay) => bay.faults.standsOut);
  const compared = bays.some((bay) => bay.faults.expected !== null);
  return (
    <Section id="bays" heading={partHeadings.bays}>
      {bays.length === 0 ? <p>The site has no bays.</p> : null}
      {bays.length === 0 ? null : (
        <p>
          {compared
            ? out.length === 0
              ? "No bay stands out: the differences below are what chance alone brings."
              : `${countText(out.length)} of ${countText(bays.length)} stand${out.length === 1 ? "s" : ""} out, beyond what chance alone brings.`
            : "There are too few bays to say that one is the odd one, so there are no control limits."}
        </p>
      )}
      {chart === null ? null : (
        <figure>
          <figcaption id="bays-caption">
            Faults of each bay: dot what was counted{compared ? ", tick what the other bays lead one to expect, bar the control limits; a diamond stands out" : ""}. The numbers stand in
            the table below.
          </figcaption>
          <Chart drawing={chart} labelledBy="bays-caption" />
        </figure>
      )}
      {bays.length === 0 ? null : <FaultTable bays={bays} />}
      {bays.length === 0 ? null : <UseTable bays={bays} />}
    </Section>
  );
}

function FaultTable({ bays }: { bays: readonly BayScore[] }): JSX.Element {
  return (
    <DataTable
      id="bays-faults"
      caption="Faults (missed and phantom transitions) against what the other bays lead one to expect"
      columns={[words("Bay"), words("Stands out"), numbers("Faults"), numbers("Expected"), numbers("Control limits"), numbers("p"), numbers("p, adjusted")]}
      rows={bays.map(({ bay, faults }) => [
        <Name of={bay} />,
        faults.standsOut ? (
          <strong class="effect breaks">
            <Mark sense="breaks" /> yes
          </strong>
        ) : faults.expected === null ? (
          "not compared"
        ) : (
          "no"
        ),
        countText(faults.count),
        faults.expected === null ? "none" : amountText(faults.expected),
        faults.controlLow === null || faults.controlHigh === null ? "none" : `${countText(faults.controlLow)}–${countText(faults.controlHigh)}`,
        pText(faults.pValue),
        pText(faults.adjustedPValue),
      ])}
    />
  );
}

function UseTable({ bays }: { bays: readonly BayScore[] }): JSX.Element {
  return (
    <DataTable
      id="bays-use"
      caption="Use of each bay, and how well its signals told of it"
      columns={[words("Bay"), numbers("Arrivals"), numbers("Departures"), numbers("Occupied"), numbers("Agreeing"), numbers("Visits missed"), numbers("Phantoms per 30 days"), numbers("Known")]}
      rows={bays.map((bay) => [
        <>
          <Name of={bay.bay} />
          <small>
            {bay.vehicle === null ? "no vehicle named" : <Name of={bay.vehicle} />}; {bay.signals.length === 0 ? "no signals" : `${bay.signals.length} signal${bay.signals.length === 1 ? "" : "s"}`}
          </small>
        </>,
        countText(bay.arrivals),
        countText(bay.departures),
        bay.occupiedShare === null ? "nobody could tell" : shareText(bay.occupiedShare),
        <FigureText of={bay.agreement} />,
        <FigureText of={bay.missedShare} />,
        <FigureText of={{ ...bay.phantomRate, unit: "" }} />,
        shareText(bay.knownShare),
      ])}
    />
  );
}

function pText(p: number | null): string {
  if (p === null) return "none";
  return p < 0.0001 ? "< 0.0001" : amountText(p, 2);
}
