import type { JSX } from "preact";
import type { Fleet, FleetMakeFinding, FleetStanding } from "../../result/fleet.js";
import { rowsAt, type Traced, type TracedRow, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

/** Rows shown of a long table; all are in the CSV file. */
const MOST_ROWS = 60;

/** All measures of one unit of a fleet. */
interface Compared {
  readonly faults: FleetStanding;
  readonly silences: FleetStanding;
  readonly flickers: FleetStanding;
}
type Place = TracedRow<Fleet["bays"][number] | Fleet["signals"][number], Fleet>;

/** `1 bay`, `8 bays`: how many a list of the fleet holds. */
export function HowMany({ at, path, one }: { at: Traced<Fleet>; path: "parts" | "bays" | "signals"; one: string }): JSX.Element {
  return (
    <>
      <Datum at={at} path={path} as="size" /> {at.of[path].length === 1 ? one : `${one}s`}
    </>
  );
}

/** Bays or signals compared with the others: those that stand out first, then by their pooled ratio. */
export function FleetPlaces({ fleet, noun }: { fleet: Fleet; noun: "bay" | "signal" }): JSX.Element {
  const at = whole(fleet);
  const path = noun === "bay" ? "bays" : "signals";
  const rows: readonly Place[] = rowsAt(at, path);
  const out = rows.filter(({ of }) => standsOut(of)).length;
  const oneSite = new Set(rows.map(({ of }) => of.site)).size === 1;
  return (
    <>
      <p>
        {out === 0 ? (
          `No ${noun} stands out: the differences are what chance and nature bring.`
        ) : (
          <>
            <Datum at={at} path={path} as="standing out" /> of <HowMany at={at} path={path} one={noun} /> {out === 1 ? "stands" : "stand"}{" "}
            out.
          </>
        )}
        {firstOf(rows.length, `${path}.csv`)}
      </p>
      <DataTable
        id={`${path}-table`}
        caption={`Each ${noun} among its fellows`}
        rows={rows
          .toSorted(
            (a, b) => Number(standsOut(b.of)) - Number(standsOut(a.of)) || (b.of.faults.pooledRatio ?? 0) - (a.of.faults.pooledRatio ?? 0),
          )
          .slice(0, MOST_ROWS)}
        columns={[
          { head: noun === "bay" ? "Bay" : "Signal", cell: (place) => <PlaceName of={place} /> },
          ...(oneSite ? [] : ([{ head: "Site", path: "site", as: "name" }] as const)),
          { head: "Stands out", cell: ({ of }) => <StandsOut of={of} /> },
          { head: "Faults", path: "faults.count", as: "count" },
          { head: "Expected", path: "faults.expected", as: "amount" },
          { head: "Limits", look: "number", cell: (place) => <Limits of={place} /> },
          { head: "Ratio, pooled", look: "number", cell: (place) => <Ratio of={place} /> },
          { head: "Silences", path: "silences.count", as: "count" },
          { head: "Expected", path: "silences.expected", as: "amount" },
          { head: "Flickers", path: "flickers.count", as: "count" },
          { head: "Known", path: "knownShare", as: "share" },
        ]}
      />
    </>
  );
}

function PlaceName({ of: place }: { of: Place }): JSX.Element {
  const { of } = place;
  if ("arrivals" in of) {
    return (
      <>
        <Name of={of.bay} />
        <small>
          <Datum at={{ ...place, of }} path="arrivals" as="count" /> {of.arrivals === 1 ? "arrival" : "arrivals"}
        </small>
      </>
    );
  }
  return (
    <>
      <Name of={of.signal} />
      <small>
        {of.kind}
        {[of.model, of.firmware].map((name) => (name === null ? null : <>, <Name of={name} /></>))}
      </small>
    </>
  );
}

/** Models or firmwares. */
export function FleetMakes({ fleet, noun }: { fleet: Fleet; noun: "model" | "firmware" }): JSX.Element {
  const isModel = noun === "model";
  return (
    <DataTable
      id={`${noun}s-table`}
      caption={
        isModel
          ? "All signals of a model against the other signals of their kind"
          : "All signals of a firmware against the other signals of their model"
      }
      rows={rowsAt(whole(fleet), isModel ? "models" : "firmwares")}
      columns={[
        { head: isModel ? "Model" : "Firmware", cell: (make) => <MakeName of={make.of} make={make} /> },
        { head: "Stands out", cell: ({ of }) => <StandsOut of={of} /> },
        { head: "Signals", path: "signals", as: "count" },
        { head: "Sites", path: "sites", as: "count" },
        { head: "Faults", path: "faults.count", as: "count" },
        { head: "Expected", path: "faults.expected", as: "amount" },
        { head: "Limits", look: "number", cell: (make) => <Limits of={make} /> },
        { head: "Ratio, pooled", look: "number", cell: (make) => <Ratio of={make} /> },
        { head: "Silences", path: "silences.count", as: "count" },
        { head: "Known", path: "knownShare", as: "share" },
      ]}
    />
  );
}

/** The name of a model or firmware, and what share of its faults its worst sensor has: one bad device does not make a bad model. */
function MakeName({ of, make }: { of: FleetMakeFinding; make: TracedRow<FleetMakeFinding> }): JSX.Element {
  return (
    <>
      <Name of={of.firmware ?? of.model} />
      <small>
        {of.firmware === null ? null : <><Name of={of.model} />, </>}
        {of.kind}
        {of.worst === null ? null : <>; <Name of={of.worst.signal} /> alone has <Datum at={make} path="worst.share" as="share" /></>}
      </small>
    </>
  );
}

/** The verdict on each rule of each site, those that are not clear first; long lists are cut. */
export function FleetSites({ fleet }: { fleet: Fleet }): JSX.Element {
  const at = whole(fleet);
  const order = ["do not enable", "not proven yet", "clear to enable"];
  const rows = rowsAt(at, "parts.*.rules");
  return (
    <>
      <p>
        <HowMany at={at} path="parts" one="audit" />; rules, each by its own period alone:{" "}
        <Datum at={at} path="parts.*.rules.*.verdict" as="tally of verdicts" />.{firstOf(rows.length, "fleet.json")}
      </p>
      <DataTable
        id="rules-table"
        caption="Verdicts"
        rows={rows.toSorted((a, b) => order.indexOf(a.of.verdict) - order.indexOf(b.of.verdict)).slice(0, MOST_ROWS)}
        columns={[
          { head: "Site", path: "^.site", as: "name" },
          { head: "Period", path: "^.period.label", as: "name" },
          { head: "Rule", path: "name", as: "name", look: "prose" },
          { head: "Verdict", path: "verdict", as: "text" },
        ]}
      />
    </>
  );
}

/** Control limits of faults, or "none". */
function Limits({ of: unit }: { of: Traced<Compared> }): JSX.Element {
  const { controlLow, controlHigh } = unit.of.faults;
  if (controlLow === null || controlHigh === null) return <>none</>;
  return (
    <>
      <Datum at={unit} path="faults.controlLow" as="count" />–<Datum at={unit} path="faults.controlHigh" as="count" />
    </>
  );
}

/** The partly pooled ratio of faults with its interval, or "none". */
function Ratio({ of: unit }: { of: Traced<Compared> }): JSX.Element {
  const { pooledRatio, pooledLow, pooledHigh } = unit.of.faults;
  if (pooledRatio === null || pooledLow === null || pooledHigh === null) return <>none</>;
  return (
    <>
      <Datum at={unit} path="faults.pooledRatio" as="ratio" /> (<Datum at={unit} path="faults.pooledLow" as="ratio" />–
      <Datum at={unit} path="faults.pooledHigh" as="ratio" />)
    </>
  );
}

/** In what it stands out; "no", or "not compared". */
function StandsOut({ of }: { of: Compared }): JSX.Element {
  const { faults, silences, flickers } = of;
  const nouns = [...(faults.standsOut ? ["faults"] : []), ...(silences.standsOut ? ["silences"] : []), ...(flickers.standsOut ? ["flickers"] : [])];
  if (nouns.length === 0) return <>{faults.expected === null && silences.expected === null ? "not compared" : "no"}</>;
  return (
    <strong class="effect breaks">
      <Mark sense="breaks" /> {nouns.join(" and ")}
    </strong>
  );
}

function standsOut({ faults, silences, flickers }: Compared): boolean {
  return faults.standsOut || silences.standsOut || flickers.standsOut;
}

/** What a table that is cut says; the number is the table's own. */
function firstOf(rows: number, file: string): string {
  return rows > MOST_ROWS ? ` The first ${MOST_ROWS} are shown; all are in ${file}.` : "";
}
