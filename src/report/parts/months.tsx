import type { JSX } from "preact";
import type { Months as MonthsFinding } from "../../result/months.js";
import type { Findings } from "../../result/findings.js";
import { shownSeries } from "../charts/month-lines.js";
import { type Drawings, MOST_ROWS } from "../drawings.js";
import { countOf } from "../format.js";
import { rowsAt, type TracedRow, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded, LeftOut, MOST_LISTED } from "./folded.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Picture } from "./picture.js";

/** Sentences on what the site file changed and what could not be compared. */
const MOST_NOTES = 40;

const cut = { most: MOST_LISTED, file: "findings.json" };

/** Whether there is anything of earlier periods to tell. */
export function hasMonths({ months }: Findings): boolean {
  return months !== null && (months.earlier.length > 0 || months.leftOut.length > 0 || months.startedAnew.length > 0);
}

/** This period beside earlier ones of the same site: which they are, and what changed. What a verdict rests on over all of them stands with its rule. */
export function Months({ findings, drawings }: { findings: Findings; drawings: Pick<Drawings, "months" | "monthClocks"> }): JSX.Element {
  const { months } = findings;
  return (
    <>
      {months === null ? null : <Which months={months} />}
      {months === null || months.earlier.length === 0 ? null : (
        <>
          <h3>Signals, this period against the earlier ones</h3>
          <Changed changes={months.changes} />
          <Pictures months={months} drawings={drawings} />
          <ChangeTable findings={findings} />
          <SeriesTable findings={findings} />
          <ClockTable findings={findings} />
        </>
      )}
    </>
  );
}

function Which({ months }: { months: MonthsFinding }): JSX.Element {
  const { earlier, gaps, leftOut, startedAnew } = months;
  const notes = [...months.siteFile, ...months.notCompared];
  return (
    <>
      {earlier.length === 0 ? (
        <p>No earlier result of this site could be used.</p>
      ) : (
        <p>
          Beside {countOf(earlier.length, "earlier period")}: <Names of={earlier.map(({ label }) => label)} />.
        </p>
      )}
      {gaps.length + leftOut.length + startedAnew.length + notes.length === 0 ? null : (
        <ul>
          {gaps.map(({ from, to }) => (
            <li>
              No result covers <LocalTime at={from} /> to <LocalTime at={to} />.
            </li>
          ))}
          {leftOut.map(({ what, why }) => (
            <li>
              Not used: <Name of={what} />: {why}
            </li>
          ))}
          {startedAnew.map(({ rule, text }) => (
            <li>
              <Name of={rule} />: {text}
            </li>
          ))}
          {notes.slice(0, MOST_NOTES).map((text) => (
            <li>{text}</li>
          ))}
        </ul>
      )}
      <LeftOut count={notes.length - MOST_NOTES} file="findings.json" />
    </>
  );
}

function Changed({ changes }: Pick<MonthsFinding, "changes">): JSX.Element {
  const beyond = changes.filter(({ beyondChance }) => beyondChance);
  if (beyond.length === 0) return <p>Nothing changed beyond what chance brings, of {countOf(changes.length, "comparison")}.</p>;
  return (
    <>
      <p>Changed beyond what chance brings, of {countOf(changes.length, "comparison")}:</p>
      <ul>
        {beyond.map(({ text, signal }) => (
          <li>{text ?? <Name of={signal} />}</li>
        ))}
      </ul>
    </>
  );
}

function Pictures({ months, drawings }: { months: MonthsFinding; drawings: Pick<Drawings, "months" | "monthClocks"> }): JSX.Element {
  const { series } = months;
  const moved = series.some(({ points }) => points.some(({ occupiedMetres }) => occupiedMetres.value !== null));
  return (
    <>
      <Picture id="months-caption" drawing={drawings.months}>
        Each signal over the periods, oldest first: small dots the earlier ones, the large one this period with its number; a diamond where
        it changed beyond chance. Phantoms are counts per 30 days.
        {moved ? " “Moved” is how far the median reading when occupied lies from the first one here, drawn by its size." : ""} Within a
        column all rows have one scale, from 0.
        {shownSeries(months, MOST_ROWS).length < series.length
          ? ` Shown are ${MOST_ROWS} of ${countOf(series.length, "signal")}, those that changed first.`
          : ""}{" "}
        The numbers stand in the tables below.
      </Picture>
      <Picture id="month-clocks-caption" drawing={drawings.monthClocks}>
        How much later the first-named source's stamps were than the other's, and how much that grew, in the same way: what the clocks
        themselves did, corrections by the site file taken out; drawn by size, the sign stands at the number.
      </Picture>
    </>
  );
}

function ChangeTable({ findings }: { findings: Findings }): JSX.Element {
  const changes = rowsAt(whole(findings), "months.changes");
  return (
    <Folded summary={`All ${countOf(changes.length, "comparison")}`}>
      <DataTable
        id="months-changes"
        sorts
        caption="Every comparison of this period with the earlier ones together"
        rows={changes}
        columns={[
          {
            head: "Signal or clock",
            cell: ({ of: { signal, against } }) =>
              against === null ? (
                <Name of={signal} />
              ) : (
                <>
                  <Name of={signal} /> against <Name of={against} />
                </>
              ),
          },
          { head: "What", path: "measure", as: "text" },
          { head: "Before", look: "number", cell: (change) => <Level change={change} when="before" /> },
          { head: "Now", look: "number", cell: (change) => <Level change={change} when="now" /> },
          { head: "Unit", look: "prose", cell: ({ of: { unit } }) => (unit === "metres" ? "cm" : unit) },
          { head: "p", path: "pValue", as: "probability" },
          { head: "p, adjusted", path: "adjustedPValue", as: "probability" },
          { head: "Beyond chance", cell: ({ of }) => (of.beyondChance ? <strong>yes</strong> : "no") },
        ]}
        cut={cut}
      />
    </Folded>
  );
}

function Level({ change, when }: { change: TracedRow<MonthsFinding["changes"][number]>; when: "before" | "now" }): JSX.Element {
  const { unit } = change.of;
  return <Datum at={change} path={when} as={unit === "share" ? "share" : unit === "metres" ? "centimetres" : "amount"} />;
}

function ClockTable({ findings }: { findings: Findings }): JSX.Element | null {
  const rows = rowsAt(whole(findings), "months.clocks.*.points");
  if (rows.length === 0) return null;
  return (
    <Folded summary="Clocks in each period">
      <DataTable
        id="months-clocks"
        sorts
        caption="How much later one source's stamps were than another's in each period, corrections by the site file taken out"
        rows={rows}
        columns={[
          {
            head: "Sources and period",
            cell: ({ of: { label }, above: { of: pair } }) => (
              <>
                <Name of={pair.second} /> against <Name of={pair.first} />, <Name of={label} />
              </>
            ),
          },
          { head: "Later by, s", path: "offsetSeconds", as: "point as rate" },
          { head: "Drift, s a day", path: "driftSecondsPerDay", as: "point as rate" },
        ]}
        cut={cut}
      />
    </Folded>
  );
}

function SeriesTable({ findings }: { findings: Findings }): JSX.Element {
  return (
    <Folded summary="Each signal in each period">
      <DataTable
        id="months-series"
        sorts
        caption="Each signal in each period, oldest first"
        rows={rowsAt(whole(findings), "months.series.*.points")}
        columns={[
          {
            head: "Signal and period",
            cell: ({ of: { label }, above }) => (
              <>
                <Name of={above.of.signal} />, <Name of={label} />
              </>
            ),
          },
          { head: "Visits missed", path: "missedShare", as: "point as share" },
          { head: "Phantoms per 30 days", path: "phantomsPer30Days", as: "point as rate" },
          { head: "Silences per 30 days", path: "silencesPer30Days", as: "point as rate" },
          { head: "Known", path: "knownShare", as: "share" },
          { head: "Median lag when arriving", path: "lagArrivingSeconds", as: "lag" },
          { head: "Reads when occupied, cm", path: "occupiedMetres", as: "point as centimetres" },
          { head: "Reads when empty, cm", path: "emptyMetres", as: "point as centimetres" },
        ]}
        cut={cut}
      />
    </Folded>
  );
}
