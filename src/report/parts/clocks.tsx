import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { DataTable, prose, words } from "./data-table.js";
import { FigureText } from "./figure-text.js";
import { Name, Names } from "./name.js";

/** How far the clocks of any two sources seem to be apart, and what to make of it. */
export function Clocks({ clocks }: { clocks: Findings["clocks"] }): JSX.Element {
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
