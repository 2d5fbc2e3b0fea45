import type { JSX } from "preact";
import type { Drawing } from "../charts/drawing.js";
import { countOf } from "../format.js";
import { rowsAt, type Traced } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Folded, LeftOut } from "./folded.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Picture } from "./picture.js";
import { InWords } from "./timing-figure.js";
import type { NearMissFinding, RuleFinding } from "../../result/rules.js";

/** Near misses that are listed. */
export const MOST_NEAR = 5;

/** Near misses that stand unfolded. */
const MOST_OPEN = 4;

interface Properties {
  readonly rule: Traced<RuleFinding>;
  /** In the order of the near misses; null where none was drawn. */
  readonly drawings: readonly (Drawing | null)[];
}

/** The near misses of a rule in a table, the worst of them with a timing diagram folded under the row. */
export function NearMisses({ rule, drawings }: Properties): JSX.Element {
  const misses = rowsAt(rule, "margin.nearMisses");
  if (misses.length === 0)
    return (
      <p>
        At no time did one signal alone stand between this rule and a wrong firing, but for stretches that led up to a firing or followed
        one.
      </p>
    );
  const vouched = misses.filter(({ of }) => of.verified).length;
  const drawingOf = (miss: Traced<NearMissFinding>): Drawing | null => drawings[miss.index] ?? null;
  const drawn = misses.filter((miss) => drawingOf(miss) !== null);
  // All that are drawn, and the first others, up to what a page can hold; in order.
  const listed = new Set([...drawn, ...misses.filter((miss) => drawingOf(miss) === null)].slice(0, MOST_NEAR));
  const all = countOf(misses.length, "near miss", "near misses");
  return (
    <>
      <p>
        {countOf(misses.length, "time")} one signal alone stood between this rule and a wrong firing; for {vouched} of them a witness
        outside the rule, or the diary, says that it would have been wrong. Stretches that led up to a firing or followed one are not
        counted here. {drawnText(drawn.length, misses.length)}
      </p>
      <Folded summary={misses.length > listed.size ? `${listed.size} of ${all}` : `All ${all}`} when={misses.length > MOST_OPEN}>
        <DataTable
          id={`near-${rule.index + 1}`}
          stacks
          caption={
            <>
              Near misses of “<Name of={rule.of.name} />”, and what stood in the way: each of the signals alone would have done
            </>
          }
          rows={misses.filter((miss) => listed.has(miss))}
          columns={[
            { head: "From", path: "from", as: "time" },
            { head: "For", path: "", as: "span" },
            { head: "In the way", path: "inTheWay", as: "names" },
            { head: "Vouched for", path: "verified", as: "yes or no" },
            { head: "What was missing", path: "why", as: "text", look: "prose" },
          ]}
          under={(miss) => {
            const drawing = drawingOf(miss);
            return drawing === null ? null : <Drawn miss={miss.of} drawing={drawing} id={`near-${rule.index + 1}-${miss.index + 1}`} />;
          }}
        />
        <LeftOut count={misses.length - listed.size} file="findings.json" />
      </Folded>
    </>
  );
}

function drawnText(drawn: number, count: number): string {
  if (drawn === 0) return "None of them is drawn.";
  if (drawn === count) return drawn === 1 ? "It is drawn, folded under its row." : "Each is drawn, folded under its row.";
  const which = drawn === 1 ? "worst is" : `${drawn} worst are`;
  return `The ${which} drawn, folded under the row: those vouched for before the others, the longest first. All are in findings.json.`;
}

function Drawn({ miss, drawing, id }: { miss: NearMissFinding; drawing: Drawing; id: string }): JSX.Element {
  const { excerpt } = miss;
  return (
    <details>
      <summary>Timing diagram</summary>
      <Picture id={id} drawing={drawing} below={excerpt === null ? null : <InWords moment={excerpt} />}>
        One signal away from firing between <LocalTime at={miss.from} /> and <LocalTime at={miss.to} />, under the bar; each line is one
        signal, high means on. {excerpt !== null && excerpt.to < miss.to ? "Only its beginning is shown. " : ""}In the way:{" "}
        <Names of={miss.inTheWay} />.
      </Picture>
    </details>
  );
}
