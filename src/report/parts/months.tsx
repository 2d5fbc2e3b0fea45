import type { JSX } from "preact";
import { shownSeries } from "../charts/month-lines.js";
import type { Findings } from "../../result/schema.js";
import type { Months as MonthsFinding } from "../../result/months-schema.js";
import { type Drawing, MOST_ROWS } from "../drawings.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { Cumulated } from "./cumulated.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_LISTED } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** So many sentences on what the site file changed and what could not be compared. */
const MOST_NOTES = 40;

/** Whether there is anything of earlier periods to tell. */
export function hasMonths({ months, rules }: Findings): boolean {
  return (months !== null && (months.earlier.length > 0 || months.leftOut.length > 0 || months.startedAnew.length > 0)) || rules.some(({ cumulated }) => cumulated !== null);
}

/** This period beside earlier ones of the same site: what each verdict rests on over all of them, and what changed. Nothing where there is none. */
export function Months({ findings, drawing, clocks, clock }: { findings: Findings; drawing: Drawing | null; clocks: Drawing | null; clock: LocalClock }): JSX.Element | null {
  const { months } = findings;
  if (!hasMonths(findings)) return null;
  return (
    <Section id="months" heading={partHeadings.months}>
      {months === null ? null : <Which months={months} clock={clock} />}
      {findings.rules.map((rule, index) => (rule.cumulated === null ? null : <Cumulated rule={rule} cumulated={rule.cumulated} index={index} />))}
      {months === null || months.earlier.length === 0 ? null : <Compared months={months} drawing={drawing} clocks={clocks} />}
    </Section>
  );
}

function Which({ months, clock }: { months: MonthsFinding; clock: LocalClock }): JSX.Element {
  const { earlier, gaps, leftOut, startedAnew, siteFile, notCompared } = months;
  return (
    <>
      <p>
        {earlier.length === 0 ? "No earlier result of this site could be used." : `Beside ${countOf(earlier.length, "earlier period")}: `}
        {earlier.map(({ label }, index) => (
          <>
            {index > 0 ? ", " : ""}
            <Name of={label} />
          </>
        ))}
        {earlier.length === 0 ? "" : "."}
      </p>
      {gaps.length + leftOut.length + startedAnew.length + siteFile.length + notCompared.length === 0 ? null : (
        <ul>
          {gaps.map(({ from, to }) => (
            <li>
              No result covers <LocalTime at={from} clock={clock} /> to <LocalTime at={to} clock={clock} />.
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
          {[...siteFile, ...notCompared].slice(0, MOST_NOTES).map((text) => (
            <li>{text}</li>
          ))}
        </ul>
      )}
      <LeftOut count={siteFile.length + notCompared.length - MOST_NOTES} file="findings.json" />
    </>
  );
}

function Compared({ months, drawing, clocks }: { months: MonthsFinding; drawing: Drawing | null; clocks: Drawing | null }): JSX.Element {
  const { changes, series } = months;
  const beyond = changes.filter(({ beyondChance }) => beyondChance);
  return (
    <>
      <h3>Signals, this period against the earlier ones</h3>
      {beyond.length === 0 ? (
        <p>Nothing changed beyond what chance brings, of {countOf(changes.length, "comparison")}.</p>
      ) : (
        <>
          <p>Changed beyond what chance brings, of {countOf(changes.length, "comparison")}:</p>
          <ul>
            {beyond.map(({ text, signal }) => (
              <li>{text ?? <Name of={signal} />}</li>
            ))}
          </ul>
        </>
      )}
      {drawing === null ? null : (
        <figure>
          <figcaption id="months-caption">
            Each signal over the periods, oldest first: small dots the earlier ones, the large one this period with its number; a diamond where it changed beyond chance. Phantoms are counts per 30 days.{series.some(({ points }) => points.some(({ occupiedMetres }) => occupiedMetres.value !== null)) ? " “Moved” is how far the median reading when occupied lies from the first one here, drawn by its size." : ""} Within a
            column all rows have one scale, from 0.{shownSeries(months, MOST_ROWS).length < months.series.length ? ` Shown are ${MOST_ROWS} of ${countOf(months.series.length, "signal")}, those that changed first.` : ""} The numbers stand in the tables below.
          </figcaption>
          <Chart drawing={drawing} labelledBy="months-caption" />
        </figure>
      )}
      {clocks === null ? null : (
        <figure>
          <figcaption id="month-clocks-caption">
            How much later the first-named source's stamps were than the other's, and how much that grew, in the same way: what the clocks themselves did, corrections by the site file taken out; drawn by size, the sign stands at the number.
          </figcaption>
          <Chart drawing={clocks} labelledBy="month-clocks-caption" />
        </figure>
      )}
      <Folded summary={`All ${countOf(changes.length, "comparison")}`}>
        <DataTable
          id="months-changes"
          sorts
          caption="Every comparison of this period with the earlier ones together"
          columns={[words("Signal or clock"), words("What"), numbers("Before"), numbers("Now"), prose("Unit"), numbers("p"), numbers("p, adjusted"), words("Beyond chance")]}
          rows={changes.slice(0, MOST_LISTED).map((change, index) => [
            change.against === null ? <Name of={change.signal} /> : <>
              <Name of={change.signal} /> against <Name of={change.against} />
            </>,
            change.measure,
            change.before === null ? "none" : <Datum of={change.before} from={`months.changes.${index}.before`} as={writing(change.unit)} />,
            change.now === null ? "none" : <Datum of={change.now} from={`months.changes.${index}.now`} as={writing(change.unit)} />,
            change.unit === "metres" ? "cm" : change.unit,
            <Datum of={change.pValue} from={`months.changes.${index}.pValue`} as="probability" />,
            <Datum of={change.adjustedPValue} from={`months.changes.${index}.adjustedPValue`} as="probability" />,
            change.beyondChance ? <strong>yes</strong> : "no",
          ])}
        />
        <LeftOut count={changes.length - MOST_LISTED} file="findings.json" />
      </Folded>
      <SeriesTable series={series} />
      <ClockTable clocks={months.clocks} />
    </>
  );
}

/** How a figure of a change is written. */
function writing(unit: string): "share" | "centimetres" | "amount" {
  return unit === "share" ? "share" : unit === "metres" ? "centimetres" : "amount";
}

function ClockTable({ clocks }: { clocks: MonthsFinding["clocks"] }): JSX.Element | null {
  const rows = clocks.flatMap(({ first, second, points }, index) => points.map((point, at) => ({ ...point, first, second, path: `months.clocks.${index}.points.${at}` })));
  if (rows.length === 0) return null;
  return (
    <Folded summary="Clocks in each period">
      <DataTable
        id="months-clocks"
        sorts
        caption="How much later one source's stamps were than another's in each period, corrections by the site file taken out"
        columns={[words("Sources and period"), numbers("Later by, s"), numbers("Drift, s a day")]}
        rows={rows.slice(0, MOST_LISTED).map((row) => [
          <>
            <Name of={row.second} /> against <Name of={row.first} />, <Name of={row.label} />
          </>,
          <Datum of={row.offsetSeconds} from={`${row.path}.offsetSeconds`} as="point as rate" />,
          <Datum of={row.driftSecondsPerDay} from={`${row.path}.driftSecondsPerDay`} as="point as rate" />,
        ])}
      />
      <LeftOut count={rows.length - MOST_LISTED} file="findings.json" />
    </Folded>
  );
}

function SeriesTable({ series }: { series: MonthsFinding["series"] }): JSX.Element {
  const rows = series.flatMap(({ signal, points }, index) => points.map((point, at) => ({ ...point, signal, path: `months.series.${index}.points.${at}` })));
  return (
    <Folded summary="Each signal in each period">
      <DataTable
        id="months-series"
        sorts
        caption="Each signal in each period, oldest first"
        columns={[words("Signal and period"), numbers("Visits missed"), numbers("Phantoms per 30 days"), numbers("Silences per 30 days"), numbers("Known"), numbers("Median lag when arriving"), numbers("Reads when occupied, cm"), numbers("Reads when empty, cm")]}
        rows={rows.slice(0, MOST_LISTED).map((row) => [
          <>
            <Name of={row.signal} />, <Name of={row.label} />
          </>,
          <Datum of={row.missedShare} from={`${row.path}.missedShare`} as="point as share" />,
          <Datum of={row.phantomsPer30Days} from={`${row.path}.phantomsPer30Days`} as="point as rate" />,
          <Datum of={row.silencesPer30Days} from={`${row.path}.silencesPer30Days`} as="point as rate" />,
          row.knownShare === null ? "none" : <Datum of={row.knownShare} from={`${row.path}.knownShare`} as="share" />,
          row.lagArrivingSeconds === null ? "none" : <Datum of={row.lagArrivingSeconds} from={`${row.path}.lagArrivingSeconds`} as="lag" />,
          <Datum of={row.occupiedMetres} from={`${row.path}.occupiedMetres`} as="point as centimetres" />,
          <Datum of={row.emptyMetres} from={`${row.path}.emptyMetres`} as="point as centimetres" />,
        ])}
      />
      <LeftOut count={rows.length - MOST_LISTED} file="findings.json" />
    </Folded>
  );
}
