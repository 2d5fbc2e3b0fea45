import type { JSX } from "preact";
import type { Findings } from "../../findings/schema.js";
import { countOf } from "../format.js";
import type { Drawing, Drawings } from "../drawings.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

type Band = Findings["bands"][number];
type Change = Findings["changes"][number];

/** So many histograms stand open; the rest are folded away. */
const OPEN_HISTOGRAMS = 4;

/** Clocks, bands, and what got worse within the period: what somebody can set right. */
export function Upkeep({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="upkeep" heading={partHeadings.upkeep}>
      <h3>Clocks</h3>
      <Clocks clocks={findings.clocks} />
      <h3>Bands</h3>
      <Bands bands={findings.bands} drawings={drawings.bands} />
      <h3>Changes within the period</h3>
      <Changes changes={findings.changes} clock={clock} />
    </Section>
  );
}

function Clocks({ clocks }: { clocks: Findings["clocks"] }): JSX.Element {
  const compared = clocks.map((pair, index) => ({ ...pair, path: `clocks.${index}` })).filter((pair) => pair.offset.value !== null);
  if (compared.length === 0) return <p>No two sources watch the same subject, so their clocks cannot be compared.</p>;
  return (
    <>
      <DataTable
        id="upkeep-clocks" stacks
        caption="How much later the second source's stamps are for the same change; nothing was corrected"
        columns={[words("Sources"), words("Watching"), words("Later by"), words("Turns to on"), words("Turns to off"), words("Drift, s a day"), prose("What to make of it")]}
        rows={compared.map((pair) => [
          <Names of={[pair.first, pair.second]} />,
          <Names of={pair.subjects} />,
          <FigureText of={pair.offset} from={`${pair.path}.offset`} />,
          <FigureText of={pair.whenOn} from={`${pair.path}.whenOn`} />,
          <FigureText of={pair.whenOff} from={`${pair.path}.whenOff`} />,
          <FigureText of={pair.drift} from={`${pair.path}.drift`} bare />,
          <>
            {pair.note} {pair.suggestion === null ? null : <>To bring them in line: <code>clock_correction: {pair.suggestion.clockCorrection}</code> for <Name of={pair.suggestion.source} />.</>}
          </>,
        ])}
      />
      {compared.flatMap((pair) => pair.strained).map((rule) => (
        <p>
          <strong>
            <Name of={rule.rule} />:
          </strong>{" "}
          {rule.text}
        </p>
      ))}
    </>
  );
}

function Bands({ bands, drawings }: { bands: Findings["bands"]; drawings: readonly (Drawing | null)[] }): JSX.Element {
  if (bands.length === 0) return <p>The site file has no distance signals.</p>;
  const figures = bands.flatMap((band, index) => {
    const drawing = drawings[index] ?? null;
    return drawing === null ? [] : [<Histogram band={band} drawing={drawing} index={index} />];
  });
  return (
    <>
    <DataTable
      id="upkeep-bands" stacks
      caption="What the meters read, in centimetres, and where their bands lie"
      columns={[words("Signal"), words("Occupied"), words("Empty"), words("Present band"), words("Rests elsewhere while occupied"), prose("Advice")]}
      rows={bands.map((band, index) => {
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
      {figures.slice(0, OPEN_HISTOGRAMS)}
      {figures.length <= OPEN_HISTOGRAMS ? null : (
        <details class="folded">
          <summary>{countOf(figures.length - OPEN_HISTOGRAMS, "more distance signal")}</summary>
          {figures.slice(OPEN_HISTOGRAMS)}
        </details>
      )}
    </>
  );
}

function Histogram({ band, drawing, index }: { band: Band; drawing: Drawing; index: number }): JSX.Element {
  const id = `band-${index + 1}-caption`;
  return (
    <figure>
      <figcaption id={id}>
        What <Name of={band.signal} /> read: <Datum of={band.readings} from={`bands.${index}.readings`} as="count" /> readings by distance, and <Datum of={band.noEcho} from={`bands.${index}.noEcho`} as="count" /> without
        echo. Shaded the present band, in dashes the one suggested where it differs. Heights are roots, so that a few odd readings can be seen.
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

function Advice({ of: { suggested, presentHolds, why } }: { of: Band }): JSX.Element {
  if (suggested === null) return <>None: {why ?? "no reason recorded"}.</>;
  if (presentHolds === true) return <>The present band holds.</>;
  return <code>{suggested.written}</code>;
}

function Changes({ changes, clock }: { changes: Findings["changes"]; clock: LocalClock }): JSX.Element {
  const found = changes.map((change, index) => ({ ...change, path: `changes.${index}` })).filter((change) => change.changed);
  const looked = changes.filter((change) => change.pValue !== null).length;
  if (found.length === 0) return <p>No signal changed within the period, of {countOf(looked, "series", "series")} looked at.</p>;
  return (
    <DataTable
      id="upkeep-changes" stacks
      caption={`What changed, of ${countOf(looked, "series", "series")} looked at`}
      columns={[words("Signal"), words("What"), words("Since"), numbers("Before"), numbers("After"), numbers("Adjusted p")]}
      rows={found.map((change) => [
        <Name of={change.signal} />,
        change.what,
        change.since === null ? "" : <LocalTime at={change.since} clock={clock} />,
        <ChangeValue of={change} path={change.path} when="before" />,
        <ChangeValue of={change} path={change.path} when="after" />,
        change.adjustedPValue === null ? "" : <Datum of={change.adjustedPValue} from={`${change.path}.adjustedPValue`} as="probability" />,
      ])}
    />
  );
}

function ChangeValue({ of, path, when }: { of: Change; path: string; when: "before" | "after" }): JSX.Element {
  const value = of[when];
  const from = `${path}.${when}`;
  if (value === null) return <>unknown</>;
  if (of.unit === "share") return <Datum of={value} from={from} as="share" />;
  return (
    <>
      {of.unit === "metres" ? <Centimetres of={value} from={from} /> : <Datum of={value} from={from} as="amount" />} {of.unit === "metres" ? "cm" : "s"}
    </>
  );
}

function Centimetres({ of, from }: { of: number; from: string }): JSX.Element {
  return <Datum of={of} from={from} as="centimetres" />;
}
