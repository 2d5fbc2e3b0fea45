import type { ComponentChildren, JSX } from "preact";
import type { Fleet, FleetMakeFinding } from "../../result/fleet-schema.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { HowMany } from "./fleet-how-many.js";
import { type Compared, Counted, Expected, Limits, Ratio, StandsOut, standsOut } from "./fleet-standing.js";
import { Name } from "./name.js";

/** Rows shown of a long table; all are in the CSV file. */
const MOST_ROWS = 60;
/** Signals named beside their model. */
const MOST_CARRIERS = 3;

interface Place extends Compared {
  /** Where it stands in fleet.json, `bays.3`. */
  readonly from: string;
  readonly site: string;
  readonly name: string;
  readonly note: ComponentChildren;
  readonly knownShare: number;
}

/** The short list: where to go, and why. */
export function FleetVisits({ fleet }: { fleet: Fleet }): JSX.Element {
  if (fleet.sendFirst.length === 0) return <p>Nowhere in particular: nothing stands out among its fellows beyond chance, and no signal is dark.</p>;
  return (
    <>
      <p>
        At the device named, look at its aim, mounting, power and cable first. Leave work on wiring to licensed trades. The next audit tells whether it helped.
      </p>
      <ol>
        {fleet.sendFirst.map(({ site, subject, reasons }) => (
          <li>
            <strong>
              <Name of={site} />, <Name of={subject} />
            </strong>
            <ul>
              {reasons.map((reason) => (
                <li>{reason}</li>
              ))}
            </ul>
          </li>
        ))}
      </ol>
    </>
  );
}

/** All bays among their fellows. */
export function FleetBays({ bays }: Pick<Fleet, "bays">): JSX.Element {
  const note = ({ arrivals }: Fleet["bays"][number], from: string): JSX.Element => (
    <>
      <Datum of={arrivals} from={`${from}.arrivals`} as="count" /> {arrivals === 1 ? "arrival" : "arrivals"}
    </>
  );
  return <Places noun="bay" rows={bays.map((bay, index) => ({ ...bay, from: `bays.${index}`, name: bay.bay, note: note(bay, `bays.${index}`) }))} />;
}

/** All signals among the signals of their kind. */
export function FleetSignals({ signals }: Pick<Fleet, "signals">): JSX.Element {
  const note = ({ kind, model, firmware }: Fleet["signals"][number]): JSX.Element => (
    <>
      {kind}
      {[model, firmware].map((name) => (name === null ? null : <>, <Name of={name} /></>))}
    </>
  );
  return <Places noun="signal" rows={signals.map((one, index) => ({ ...one, from: `signals.${index}`, name: one.signal, note: note(one) }))} />;
}

/** Bays or signals, those that stand out first, then by their pooled ratio. */
function Places({ noun, rows }: { noun: "bay" | "signal"; rows: readonly Place[] }): JSX.Element {
  const out = rows.filter(standsOut);
  const oneSite = new Set(rows.map(({ site }) => site)).size === 1;
  const sorted = rows.toSorted((a, b) => Number(standsOut(b)) - Number(standsOut(a)) || (b.faults.pooledRatio ?? 0) - (a.faults.pooledRatio ?? 0));
  return (
    <>
      <p>
        {out.length === 0 ? (
          `No ${noun} stands out: the differences are what chance and nature bring.`
        ) : (
          <>
            <Datum of={rows} from={`${noun}s`} as="standing out" /> of <HowMany of={rows} from={`${noun}s`} one={noun} /> {out.length === 1 ? "stands" : "stand"} out.
          </>
        )}
        {firstOf(rows, `${noun}s.csv`)}
      </p>
      {rows.length === 0 ? null : (
        <DataTable
          id={`${noun}s-table`}
          caption={`Each ${noun} among its fellows`}
          columns={[words(noun === "bay" ? "Bay" : "Signal"), ...(oneSite ? [] : [words("Site")]), words("Stands out"), numbers("Faults"), numbers("Expected"), numbers("Limits"), numbers("Ratio, pooled"), numbers("Silences"), numbers("Expected"), numbers("Known")]}
          rows={sorted.slice(0, MOST_ROWS).map((row) => [
            <>
              <Name of={row.name} />
              <small>{row.note}</small>
            </>,
            ...(oneSite ? [] : [<Name of={row.site} />]),
            <StandsOut {...row} />,
            <Counted of={row.faults} from={`${row.from}.faults`} />,
            <Expected of={row.faults} from={`${row.from}.faults`} />,
            <Limits of={row.faults} from={`${row.from}.faults`} />,
            <Ratio of={row.faults} from={`${row.from}.faults`} />,
            <Counted of={row.silences} from={`${row.from}.silences`} />,
            <Expected of={row.silences} from={`${row.from}.silences`} />,
            <Datum of={row.knownShare} from={`${row.from}.knownShare`} as="share" />,
          ])}
        />
      )}
    </>
  );
}

/** Models or firmwares. */
export function FleetMakes({ noun, rows, signals }: { noun: "model" | "firmware"; rows: readonly FleetMakeFinding[] } & Pick<Fleet, "signals">): JSX.Element {
  if (rows.length === 0) return <p>No site file names a {noun}.</p>;
  return (
    <DataTable
      id={`${noun}s-table`}
      caption={noun === "model" ? "All signals of a model against the other signals of their kind" : "All signals of a firmware against the other signals of their model"}
      columns={[words(noun === "model" ? "Model" : "Firmware"), words("Stands out"), numbers("Signals"), numbers("Sites"), numbers("Faults"), numbers("Expected"), numbers("Limits"), numbers("Ratio, pooled"), numbers("Silences"), numbers("Known")]}
      rows={rows.map((row, index) => {
        const from = `${noun}s.${index}`;
        return [
          <>
            <Name of={row.firmware ?? row.model} />
            <small>
              {row.firmware === null ? null : <><Name of={row.model} />, </>}
              {row.kind}
              <Carriers of={row} signals={signals} />
            </small>
          </>,
          <StandsOut {...row} />,
          <Datum of={row.signals} from={`${from}.signals`} as="count" />,
          <Datum of={row.sites} from={`${from}.sites`} as="count" />,
          <Counted of={row.faults} from={`${from}.faults`} />,
          <Expected of={row.faults} from={`${from}.faults`} />,
          <Limits of={row.faults} from={`${from}.faults`} />,
          <Ratio of={row.faults} from={`${from}.faults`} />,
          <Counted of={row.silences} from={`${from}.silences`} />,
          <Datum of={row.knownShare} from={`${from}.knownShare`} as="share" />,
        ];
      })}
    />
  );
}

/** Of a model or firmware that stands out by its faults, the signals that do so by themselves: one bad device is no bad model. */
function Carriers({ of, signals }: { of: FleetMakeFinding } & Pick<Fleet, "signals">): JSX.Element {
  const carriers = of.faults.standsOut
    ? signals.flatMap((one, at) => (one.faults.standsOut && one.model === of.model && (of.firmware === null || one.firmware === of.firmware) ? [{ ...one, from: `signals.${at}.faults` }] : []))
    : [];
  return (
    <>
      {carriers.slice(0, MOST_CARRIERS).map((one) => (
        <>
          ; <Name of={one.signal} /> alone has <Counted of={one.faults} from={one.from} />
        </>
      ))}
    </>
  );
}

/** Which rules of which sites are clear, those that are not first; long lists are cut. */
export function FleetSites({ parts }: Pick<Fleet, "parts">): JSX.Element {
  const order = ["do not enable", "not proven yet", "clear to enable"];
  const rows = parts.flatMap((part) => part.rules.map((rule) => ({ site: part.site, label: part.period.label, ...rule })));
  const sorted = rows.toSorted((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict));
  return (
    <>
      <p>
        <HowMany of={parts} from="parts" one="audit" />; rules, each by its own period alone: <Datum of={parts.map(({ rules }) => rules.map(({ verdict }) => verdict))} from="parts.*.rules.*.verdict" as="tally of verdicts" />.
        {firstOf(rows, "fleet.json")}
      </p>
      {rows.length === 0 ? null : (
        <DataTable
          id="rules-table"
          caption="Verdicts"
          columns={[words("Site"), words("Period"), prose("Rule"), words("Verdict")]}
          rows={sorted.slice(0, MOST_ROWS).map((row) => [<Name of={row.site} />, <Name of={row.label} />, <Name of={row.name} />, row.verdict])}
        />
      )}
    </>
  );
}

/** What a table that is cut says of it; the number is the table's own. */
function firstOf(rows: readonly unknown[], file: string): string {
  return rows.length > MOST_ROWS ? ` The first ${MOST_ROWS} are shown; all are in ${file}.` : "";
}
