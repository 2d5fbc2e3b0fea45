import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { Drawing } from "../charts/drawing.js";
import { rowsAt, type TracedRow, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { MOST_TABLED } from "./folded.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";

type Band = TracedRow<Findings["bands"][number]>;

/** What the distance signals read, and where their bands lie and should lie. */
export function Bands({ findings, drawings }: { findings: Findings; drawings: readonly (Drawing | null)[] }): JSX.Element {
  const bands = rowsAt(whole(findings), "bands");
  const drawn = bands.filter(({ index }) => (drawings[index] ?? null) !== null);
  const histogram = (band: Band): JSX.Element => <Histogram band={band} drawing={drawings[band.index] ?? null} />;
  return (
    <>
      <DataTable
        id="upkeep-bands"
        stacks
        caption="What the meters read, in centimetres, and where their bands lie"
        rows={bands}
        columns={[
          { head: "Signal", path: "signal", as: "name" },
          { head: "Occupied", cell: (band) => <Mode band={band} kind="occupied" /> },
          { head: "Empty", cell: (band) => (band.of.emptyIsNoEcho ? "no echo" : <Mode band={band} kind="empty" />) },
          { head: "Present band", cell: (band) => <Present band={band} /> },
          { head: "Rests elsewhere while occupied", cell: (band) => <Others band={band} /> },
          { head: "Advice", look: "prose", cell: ({ of }) => <Advice of={of} /> },
        ]}
        cut={{ most: MOST_TABLED, file: "findings.json" }}
      />
      {drawn.map(histogram)}
    </>
  );
}

function Histogram({ band, drawing }: { band: Band; drawing: Drawing | null }): JSX.Element {
  return (
    <Picture id={`band-${band.index + 1}-caption`} drawing={drawing}>
      What <Name of={band.of.signal} /> read: <Datum at={band} path="readings" as="count" /> readings by distance, and{" "}
      <Datum at={band} path="noEcho" as="count" /> without echo. Shaded the present band, in dashes the one suggested where it differs;
      triangles where it reads when occupied and when empty, a diamond where it rests too while occupied. The numbers stand in the table
      above. Heights are roots, so that a few odd readings can be seen.
    </Picture>
  );
}

function Mode({ band, kind }: { band: Band; kind: "occupied" | "empty" }): JSX.Element {
  if (band.of[kind] === null) return <>not told apart</>;
  return (
    <>
      <Datum at={band} path={`${kind}.metres`} as="centimetres" /> ± <Datum at={band} path={`${kind}.deviationMetres`} as="centimetres" />
    </>
  );
}

function Present({ band }: { band: Band }): JSX.Element {
  const { margins, present } = band.of;
  // No reading is in it: the site file says `present: unseen`.
  if (present.farMetres === 0) return <>not seen yet</>;
  return (
    <>
      <Datum at={band} path="present.nearMetres" as="centimetres" /> to <Datum at={band} path="present.farMetres" as="centimetres" />
      {margins.occupiedToNear === null || margins.occupiedToFar === null ? null : (
        <>
          ; <Datum at={band} path="margins.occupiedToNear.metres" as="centimetres" /> and{" "}
          <Datum at={band} path="margins.occupiedToFar.metres" as="centimetres" /> from occupied
        </>
      )}
    </>
  );
}

function Others({ band }: { band: Band }): JSX.Element {
  const modes = rowsAt(band, "otherModes");
  if (modes.length === 0) return <>nowhere</>;
  return (
    <ul class="participants">
      {modes.map((mode) => (
        <li>
          <Datum at={mode} path="metres" as="centimetres" />, <Datum at={mode} path="stretches" as="count" />{" "}
          {mode.of.stretches === 1 ? "time" : "times"}, <Datum at={mode} path="hours" as="hours" />,{" "}
          {mode.of.insideBand ? "within" : "outside"} the band
        </li>
      ))}
    </ul>
  );
}

function Advice({ of: { suggested, presentHolds, why, unit } }: { of: Band["of"] }): JSX.Element {
  if (suggested === null) return <>None: {why ?? "no reason recorded"}.</>;
  if (presentHolds === true) return <>The present band holds.</>;
  return (
    <>
      In the site file, in {unit}: <code>{suggested.written}</code>
    </>
  );
}
