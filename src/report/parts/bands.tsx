import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawing } from "../drawings.js";
import { countOf } from "../format.js";
import { Centimetres } from "./centimetres.js";
import { Chart } from "./chart.js";
import { DataTable, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_TABLED } from "./left-out.js";
import { Name } from "./name.js";

type Band = Findings["bands"][number];

/** So many histograms whose bands need a look stand open; the rest are folded away. */
const OPEN_HISTOGRAMS = 4;

/** What the distance signals read, and where their bands lie and should lie. */
export function Bands({ bands, drawings }: { bands: Findings["bands"]; drawings: readonly (Drawing | null)[] }): JSX.Element {
  if (bands.length === 0) return <p>The site file has no distance signals.</p>;
  const figures = bands.flatMap((band, index) => {
    const drawing = drawings[index] ?? null;
    return drawing === null ? [] : [{ figure: <Histogram band={band} drawing={drawing} index={index} />, calls: band.presentHolds === false || band.otherModes.length > 0 }];
  });
  const calling = figures.filter(({ calls }) => calls).map(({ figure }) => figure);
  const folded = [...calling.slice(OPEN_HISTOGRAMS), ...figures.filter(({ calls }) => !calls).map(({ figure }) => figure)];
  return (
    <>
      <DataTable
        id="upkeep-bands" stacks
        caption="What the meters read, in centimetres, and where their bands lie"
        columns={[words("Signal"), words("Occupied"), words("Empty"), words("Present band"), words("Rests elsewhere while occupied"), prose("Advice")]}
        rows={bands.slice(0, MOST_TABLED).map((band, index) => {
          const path = `bands.${index}`;
          return [
            <Name of={band.signal} />,
            <Mode of={band.occupied} path={`${path}.occupied`} />,
            band.emptyIsNoEcho ? "no echo" : <Mode of={band.empty} path={`${path}.empty`} />,
            <Present of={band} path={path} />,
            <Others of={band} path={path} />,
            <Advice of={band} />,
          ];
        })}
      />
      <LeftOut count={bands.length - MOST_TABLED} file="findings.json" />
      {calling.slice(0, OPEN_HISTOGRAMS)}
      {folded.length === 0 ? null : <Folded summary={`What the ${calling.length === 0 ? "" : "other "}distance signals read: ${countOf(folded.length, "picture")}`}>{folded}</Folded>}
    </>
  );
}

function Histogram({ band, drawing, index }: { band: Band; drawing: Drawing; index: number }): JSX.Element {
  const id = `band-${index + 1}-caption`;
  return (
    <figure>
      <figcaption id={id}>
        What <Name of={band.signal} /> read: <Datum of={band.readings} from={`bands.${index}.readings`} as="count" /> readings by distance, and <Datum of={band.noEcho} from={`bands.${index}.noEcho`} as="count" /> without
        echo. Shaded the present band, in dashes the one suggested where it differs; triangles where it reads when occupied and when empty, a diamond where it rests too while occupied. The numbers stand in the table
        above. Heights are roots, so that a few odd readings can be seen.
      </figcaption>
      <Chart drawing={drawing} labelledBy={id} />
    </figure>
  );
}

function Mode({ of, path }: { of: Band["occupied"]; path: string }): JSX.Element {
  if (of === null) return <>not told apart</>;
  return (
    <>
      <Centimetres of={of.metres} from={`${path}.metres`} /> ± <Centimetres of={of.deviationMetres} from={`${path}.deviationMetres`} />
    </>
  );
}

function Present({ of: { present, margins }, path }: { of: Band; path: string }): JSX.Element {
  return (
    <>
      <Centimetres of={present.nearMetres} from={`${path}.present.nearMetres`} /> to <Centimetres of={present.farMetres} from={`${path}.present.farMetres`} />
      {margins.occupiedToNear === null || margins.occupiedToFar === null ? null : (
        <>
          ; <Centimetres of={margins.occupiedToNear.metres} from={`${path}.margins.occupiedToNear.metres`} /> and{" "}
          <Centimetres of={margins.occupiedToFar.metres} from={`${path}.margins.occupiedToFar.metres`} /> from occupied
        </>
      )}
    </>
  );
}

function Others({ of: { otherModes }, path }: { of: Band; path: string }): JSX.Element {
  if (otherModes.length === 0) return <>nowhere</>;
  return (
    <ul class="participants">
      {otherModes.map((mode, index) => (
        <li>
          <Centimetres of={mode.metres} from={`${path}.otherModes.${index}.metres`} />, <Datum of={mode.stretches} from={`${path}.otherModes.${index}.stretches`} as="count" />{" "}
          {mode.stretches === 1 ? "time" : "times"}, <Datum of={mode.hours} from={`${path}.otherModes.${index}.hours`} as="hours" />, {mode.insideBand ? "within" : "outside"} the band
        </li>
      ))}
    </ul>
  );
}

function Advice({ of: { suggested, presentHolds, why, unit } }: { of: Band }): JSX.Element {
  if (suggested === null) return <>None: {why ?? "no reason recorded"}.</>;
  if (presentHolds === true) return <>The present band holds.</>;
  return (
    <>
      In the site file, in {unit}: <code>{suggested.written}</code>
    </>
  );
}
