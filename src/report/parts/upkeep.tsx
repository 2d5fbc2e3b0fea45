import type { JSX } from "preact";
import type { Findings } from "../../findings/schema.js";
import { amountText, countOf, figureLine, shareText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

type Band = Findings["bands"][number];
type Change = Findings["changes"][number];

/** Clocks, bands, and what got worse within the period: what somebody can set right. */
export function Upkeep({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="upkeep" heading={partHeadings.upkeep}>
      <h3>Clocks</h3>
      <Clocks clocks={findings.clocks} />
      <h3>Bands</h3>
      <Bands bands={findings.bands} />
      <h3>Changes within the period</h3>
      <Changes changes={findings.changes} clock={clock} />
    </Section>
  );
}

function Clocks({ clocks }: { clocks: Findings["clocks"] }): JSX.Element {
  const compared = clocks.filter((pair) => pair.offset.value !== null);
  if (compared.length === 0) return <p>No two sources watch the same subject, so their clocks cannot be compared.</p>;
  return (
    <>
      <DataTable
        id="upkeep-clocks" stacks
        caption="How much later the second source's stamps are for the same change; nothing was corrected"
        columns={[words("Sources"), words("Watching"), words("Later by"), words("Turns to on"), words("Turns to off"), words("Drift, s a day"), words("What to make of it")]}
        rows={compared.map((pair) => [
          <Names of={[pair.first, pair.second]} />,
          <Names of={pair.subjects} />,
          figureLine(pair.offset),
          figureLine(pair.whenOn),
          figureLine(pair.whenOff),
          figureLine({ ...pair.drift, unit: "" }),
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

function Bands({ bands }: { bands: Findings["bands"] }): JSX.Element {
  if (bands.length === 0) return <p>The site file has no distance signals.</p>;
  return (
    <DataTable
      id="upkeep-bands" stacks
      caption="What the meters read, in centimetres, and where their bands lie"
      columns={[words("Signal"), words("Occupied"), words("Empty"), words("Present band"), words("Rests elsewhere while occupied"), words("Advice")]}
      rows={bands.map((band) => [<Name of={band.signal} />, modeText(band.occupied), band.emptyIsNoEcho ? "no echo" : modeText(band.empty), presentText(band), othersText(band), adviceText(band)])}
    />
  );
}

function modeText(mode: Band["occupied"]): string {
  return mode === null ? "not told apart" : `${cm(mode.metres)} ± ${cm(mode.deviationMetres)}`;
}

function presentText({ present, margins }: Band): string {
  const from = margins.occupiedToNear === null || margins.occupiedToFar === null ? "" : `; ${cm(margins.occupiedToNear.metres)} and ${cm(margins.occupiedToFar.metres)} from occupied`;
  return `${cm(present.nearMetres)} to ${cm(present.farMetres)}${from}`;
}

function othersText({ otherModes }: Band): string {
  return otherModes.length === 0 ? "nowhere" : otherModes.map((mode) => `${cm(mode.metres)}, ${countOf(mode.stretches, "time")}, ${amountText(mode.hours)} h, ${mode.insideBand ? "within" : "outside"} the band`).join("; ");
}

function adviceText({ suggested, presentHolds, why }: Band): JSX.Element {
  if (suggested === null) return <>None: {why ?? "no reason recorded"}.</>;
  if (presentHolds === true) return <>The present band holds.</>;
  return <code>{suggested.written}</code>;
}

function Changes({ changes, clock }: { changes: Findings["changes"]; clock: LocalClock }): JSX.Element {
  const found = changes.filter((change) => change.changed);
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
        valueText(change, change.before),
        valueText(change, change.after),
        change.adjustedPValue === null ? "" : shareText(change.adjustedPValue),
      ])}
    />
  );
}

function valueText({ unit }: Change, value: number | null): string {
  if (value === null) return "";
  return unit === "metres" ? `${cm(value)} cm` : unit === "seconds" ? `${amountText(value)} s` : shareText(value);
}

/** Centimetres, to the millimetre where that matters. */
function cm(metres: number): string {
  return amountText(metres * 100);
}
