import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { Names } from "./name.js";

const MOST_OPEN = 6;

/** Signals of one subject that share a cause: how many witnesses they are worth. */
export function NotWitnesses({ references }: { references: Findings["references"] }): JSX.Element | null {
  const groups = references.flatMap(({ causes }, index) => causes.map((group, at) => ({ ...group, path: `references.${index}.causes.${at}` })));
  if (groups.length === 0) return null;
  const items = groups.map(({ signals, causes, path, weight, correlation, errorSegments }) => (
    <li>
      <strong>
        These {signals.length === 2 ? "two" : <Datum of={signals} from={`${path}.signals`} as="size" />} share <Names of={causes} />: they are not {signals.length === 2 ? "two witnesses" : "as many witnesses"}.
      </strong>{" "}
      <Names of={signals} />: when all of them speak, each voice weighs <Datum of={weight} from={`${path}.weight`} as="share" /> of a full one. Their errors are alike to{" "}
      <Datum of={correlation} from={`${path}.correlation`} as="share" /> (0: not at all, 1: always together), as far as <Datum of={errorSegments} from={`${path}.errorSegments`} as="amount" /> stretches with an error tell.
    </li>
  ));
  return (
    <>
      <h3>Signals that share a cause</h3>
      <ul>{items.slice(0, MOST_OPEN)}</ul>
      {items.length <= MOST_OPEN ? null : (
        <Folded summary={countOf(items.length - MOST_OPEN, "more group")}>
          <ul>{items.slice(MOST_OPEN)}</ul>
        </Folded>
      )}
    </>
  );
}
