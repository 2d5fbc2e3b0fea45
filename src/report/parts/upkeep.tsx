import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawings } from "../drawings.js";
import { rowsAt, whole } from "../traced.js";
import { Bands } from "./bands.js";
import { Changes } from "./changes.js";
import { DataTable } from "./data-table.js";
import { Name, Names } from "./name.js";

/** What somebody can set right; each is there only if it has something to say. */
export function upkeepOf({ clocks, bands, changes }: Findings): { clocks: boolean; bands: boolean; changes: boolean } {
  return {
    clocks: clocks.some(({ offset }) => offset.value !== null),
    bands: bands.length > 0,
    changes: changes.some(({ changed }) => changed),
  };
}

/** Clocks, bands, and what got worse within the period: what somebody can set right. */
export function Upkeep({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  const { clocks, bands, changes } = upkeepOf(findings);
  return (
    <>
      {clocks ? (
        <>
          <h3>Clocks</h3>
          <Clocks findings={findings} />
        </>
      ) : null}
      {bands ? (
        <>
          <h3>Bands</h3>
          <Bands findings={findings} drawings={drawings.bands} />
        </>
      ) : null}
      {changes ? (
        <>
          <h3>Changes within the period</h3>
          <Changes findings={findings} drawings={drawings.changes} />
        </>
      ) : null}
    </>
  );
}

/** How far the clocks of any two sources seem to be apart, and what to make of it. */
function Clocks({ findings }: { findings: Findings }): JSX.Element {
  const compared = rowsAt(whole(findings), "clocks").filter(({ of }) => of.offset.value !== null);
  return (
    <>
      <DataTable
        id="upkeep-clocks"
        stacks
        caption="How much later the second source's stamps are for the same change; nothing was corrected"
        rows={compared}
        columns={[
          { head: "Sources", cell: ({ of }) => <Names of={[of.first, of.second]} /> },
          { head: "Watching", path: "subjects", as: "names" },
          { head: "Later by", path: "offset", as: "figure", look: "words" },
          { head: "Turns to on", path: "whenOn", as: "figure", look: "words" },
          { head: "Turns to off", path: "whenOff", as: "figure", look: "words" },
          { head: "Drift, s a day", path: "drift", as: "figure without unit", look: "words" },
          {
            head: "What to make of it",
            look: "prose",
            cell: ({ of: { note, suggestion } }) => (
              <>
                {note}{" "}
                {suggestion === null ? null : (
                  <>
                    To bring them in line: <code>clock_correction: {suggestion.clockCorrection}</code> for <Name of={suggestion.source} />.
                  </>
                )}
              </>
            ),
          },
        ]}
      />
      {compared.flatMap(({ of }) => of.strained).map((rule) => (
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
