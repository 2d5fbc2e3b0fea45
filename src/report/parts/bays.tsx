import type { JSX } from "preact";
import type { BayScore, Findings } from "../../result/schema.js";
import { type Drawing, mostFaulty } from "../drawings.js";
import { countText } from "../format.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
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
            Faults of each bay: dot what was counted{compared ? ", tick what the other bays lead one to expect, bar the control limits; a diamond stands out" : ""}.{mostFaulty(bays).length < bays.length ? ` Shown are the ${mostFaulty(bays).length} bays with most faults.` : ""} The numbers stand in
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
      sorts
      caption="Faults (missed and phantom transitions) against what the other bays lead one to expect"
      columns={[words("Bay"), words("Stands out"), numbers("Faults"), numbers("Expected"), numbers("Control limits"), numbers("p"), numbers("p, adjusted")]}
      rows={bays.map(({ bay, faults }, index) => [
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
        <Datum of={faults.count} from={`bays.${index}.faults.count`} as="count" />,
        faults.expected === null ? "none" : <Datum of={faults.expected} from={`bays.${index}.faults.expected`} as="amount" />,
        faults.controlLow === null || faults.controlHigh === null ? (
          "none"
        ) : (
          <>
            <Datum of={faults.controlLow} from={`bays.${index}.faults.controlLow`} as="count" />–<Datum of={faults.controlHigh} from={`bays.${index}.faults.controlHigh`} as="count" />
          </>
        ),
        faults.pValue === null ? "none" : <Datum of={faults.pValue} from={`bays.${index}.faults.pValue`} as="probability" />,
        faults.adjustedPValue === null ? "none" : <Datum of={faults.adjustedPValue} from={`bays.${index}.faults.adjustedPValue`} as="probability" />,
      ])}
    />
  );
}

function UseTable({ bays }: { bays: readonly BayScore[] }): JSX.Element {
  return (
    <DataTable
      id="bays-use"
      sorts
      caption="Use of each bay, and how well its signals told of it"
      columns={[words("Bay"), numbers("Arrivals"), numbers("Departures"), numbers("Occupied"), numbers("Agreeing"), numbers("Visits missed"), numbers("Phantoms per 30 days"), numbers("Known")]}
      rows={bays.map((bay, index) => [
        <>
          <Name of={bay.bay} />
          <small>
            {bay.vehicle === null ? "no vehicle named" : <Name of={bay.vehicle} />}; <Datum of={bay.signals} from={`bays.${index}.signals`} as="size" /> {bay.signals.length === 1 ? "signal" : "signals"}
          </small>
        </>,
        <Datum of={bay.arrivals} from={`bays.${index}.arrivals`} as="count" />,
        <Datum of={bay.departures} from={`bays.${index}.departures`} as="count" />,
        bay.occupiedShare === null ? "nobody could tell" : <Datum of={bay.occupiedShare} from={`bays.${index}.occupiedShare`} as="share" />,
        <FigureText of={bay.agreement} from={`bays.${index}.agreement`} />,
        <FigureText of={bay.missedShare} from={`bays.${index}.missedShare`} />,
        <FigureText of={bay.phantomRate} from={`bays.${index}.phantomRate`} bare />,
        <Datum of={bay.knownShare} from={`bays.${index}.knownShare`} as="share" />,
      ])}
    />
  );
}
