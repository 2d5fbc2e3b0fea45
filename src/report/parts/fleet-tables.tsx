import type { JSX } from "preact";
import type { Fleet, FleetMakeFinding, FleetStanding } from "../../fleet/schema.js";
import { amountText, countOf, countText, shareText } from "../format.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

/** Rows shown of a long table; all are in the CSV file. */
const MOST_ROWS = 60;

interface Place {
  readonly site: string;
  readonly name: string;
  readonly note: string;
  readonly knownShare: number;
  readonly faults: FleetStanding;
  readonly silences: FleetStanding;
}

/** The short list: where to go, and why. */
export function FleetVisits({ fleet }: { fleet: Fleet }): JSX.Element {
  if (fleet.sendFirst.length === 0) return <p>Nowhere in particular: nothing stands out among its fellows beyond chance, and no signal is dark.</p>;
  return (
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
  );
}

/** Bays or signals, those that stand out first, then by their pooled ratio. */
export function FleetPlaces({ id, noun, rows }: { id: string; noun: string; rows: readonly Place[] }): JSX.Element {
  const out = rows.filter(standsOut);
  const sorted = rows.toSorted((a, b) => Number(standsOut(b)) - Number(standsOut(a)) || (b.faults.pooledRatio ?? 0) - (a.faults.pooledRatio ?? 0));
  return (
    <>
      <p>
        {out.length === 0 ? `No ${noun} stands out: the differences are what chance and nature bring.` : `${countOf(out.length, noun)} of ${countText(rows.length)} ${out.length === 1 ? "stands" : "stand"} out.`}
        {rows.length > MOST_ROWS ? ` The first ${MOST_ROWS} are shown; all are in ${noun}s.csv.` : ""}
      </p>
      {rows.length === 0 ? null : (
        <DataTable
          id={id}
          caption={`Each ${noun} among its fellows`}
          columns={[words(noun === "bay" ? "Bay" : "Signal"), words("Site"), words("Stands out"), numbers("Faults"), numbers("Expected"), numbers("Limits"), numbers("Ratio, pooled"), numbers("Silences"), numbers("Expected"), numbers("Known")]}
          rows={sorted.slice(0, MOST_ROWS).map((row) => [
            <>
              <Name of={row.name} />
              <small>{row.note}</small>
            </>,
            <Name of={row.site} />,
            <Verdict faults={row.faults} silences={row.silences} />,
            countText(row.faults.count),
            expectedText(row.faults),
            limitsText(row.faults),
            ratioText(row.faults),
            countText(row.silences.count),
            expectedText(row.silences),
            shareText(row.knownShare),
          ])}
        />
      )}
    </>
  );
}

/** Models or firmwares. */
export function FleetMakes({ id, noun, rows }: { id: string; noun: string; rows: readonly FleetMakeFinding[] }): JSX.Element {
  if (rows.length === 0) return <p>No site file names a {noun}.</p>;
  return (
    <DataTable
      id={id}
      caption={noun === "model" ? "All signals of a model against the other signals of their kind" : "All signals of a firmware against the other signals of their model"}
      columns={[words(noun === "model" ? "Model" : "Firmware"), words("Stands out"), numbers("Signals"), numbers("Sites"), numbers("Faults"), numbers("Expected"), numbers("Limits"), numbers("Ratio, pooled"), numbers("Silences"), numbers("Known")]}
      rows={rows.map((row) => [
        <>
          <Name of={row.firmware ?? row.model} />
          <small>{row.firmware === null ? row.kind : `${row.model}, ${row.kind}`}</small>
        </>,
        <Verdict faults={row.faults} silences={row.silences} />,
        countText(row.signals),
        countText(row.sites),
        countText(row.faults.count),
        expectedText(row.faults),
        limitsText(row.faults),
        ratioText(row.faults),
        countText(row.silences.count),
        shareText(row.knownShare),
      ])}
    />
  );
}

/** Which rules of which sites are clear, those that are not first; long lists are cut. */
export function FleetSites({ fleet }: { fleet: Fleet }): JSX.Element {
  const order = ["do not enable", "not proven yet", "clear to enable"];
  const rows = fleet.parts.flatMap((part) => part.rules.map((rule) => ({ site: part.site, label: part.period.label, ...rule })));
  const tally = order.map((verdict) => `${countText(rows.filter((row) => row.verdict === verdict).length)} ${verdict}`).join(", ");
  const sorted = rows.toSorted((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict));
  return (
    <>
      <p>
        {countOf(fleet.parts.length, "audit")}; rules, each by its own period alone: {tally}.{rows.length > MOST_ROWS ? ` The first ${MOST_ROWS} are shown; all are in fleet.json.` : ""}
      </p>
      {rows.length === 0 ? null : (
        <DataTable
          id="rules-table"
          caption="Verdicts"
          columns={[words("Site"), words("Period"), prose("Rule"), words("Verdict")]}
          rows={sorted.slice(0, MOST_ROWS).map((row) => [<Name of={row.site} />, row.label, <Name of={row.name} />, row.verdict])}
        />
      )}
    </>
  );
}

function Verdict({ faults, silences }: Pick<Place, "faults" | "silences">): JSX.Element {
  const nouns = [faults.standsOut ? "faults" : null, silences.standsOut ? "silences" : null].filter((noun) => noun !== null);
  if (nouns.length > 0) {
    return (
      <strong class="effect breaks">
        <Mark sense="breaks" /> {nouns.join(" and ")}
      </strong>
    );
  }
  return <>{faults.expected === null && silences.expected === null ? "not compared" : "no"}</>;
}

function standsOut({ faults, silences }: Pick<Place, "faults" | "silences">): boolean {
  return faults.standsOut || silences.standsOut;
}

function expectedText({ expected }: FleetStanding): string {
  return expected === null ? "none" : amountText(expected);
}

function limitsText({ controlLow, controlHigh }: FleetStanding): string {
  return controlLow === null || controlHigh === null ? "none" : `${countText(controlLow)}–${countText(controlHigh)}`;
}

function ratioText({ pooledRatio, pooledLow, pooledHigh }: FleetStanding): string {
  return pooledRatio === null || pooledLow === null || pooledHigh === null ? "none" : `${amountText(pooledRatio, 2)} (${amountText(pooledLow, 2)}–${amountText(pooledHigh, 2)})`;
}
