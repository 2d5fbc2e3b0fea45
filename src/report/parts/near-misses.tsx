import type { JSX } from "preact";
import type { NearMissFinding, RuleFinding } from "../../result/schema.js";
import type { Drawing } from "../drawings.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { DataTable, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_TOLD } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { InWords } from "./timing-figure.js";

/** So many near misses stand unfolded. */
const MOST_OPEN = 4;

interface Properties {
  readonly rule: RuleFinding;
  readonly index: number;
  /** In the order of the near misses; null where none was drawn. */
  readonly drawings: readonly (Drawing | null)[];
  readonly clock: LocalClock;
}

/** The near misses of a rule in a table, the worst of them with a timing diagram folded under the row. */
export function NearMisses({ rule, index, drawings, clock }: Properties): JSX.Element {
  const { nearMisses } = rule.margin;
  if (nearMisses.length === 0) return <p>At no time did one signal alone stand between this rule and a wrong firing, but for stretches that led up to a firing or followed one.</p>;
  const vouched = nearMisses.filter(({ verified }) => verified).length;
  const listed = listedPlaces(drawings, nearMisses.length);
  return (
    <>
      <p>
        {countOf(nearMisses.length, "time")} one signal alone stood between this rule and a wrong firing; for {vouched} of them a witness outside the rule, or the diary, says that it would have been wrong. Stretches that
        led up to a firing or followed one are not counted here.{" "}
        {drawnText(drawings.filter((drawing) => drawing !== null).length, nearMisses.length)}
      </p>
      <Folded summary={nearMisses.length > listed.length ? `${listed.length} of ${countOf(nearMisses.length, "near miss", "near misses")}` : `All ${countOf(nearMisses.length, "near miss", "near misses")}`} when={nearMisses.length > MOST_OPEN}>
        <DataTable
          id={`near-${index + 1}`}
          stacks
          caption={
            <>
              Near misses of “<Name of={rule.name} />”, and what stood in the way: each of the signals alone would have done
            </>
          }
          columns={[words("From"), words("For"), words("In the way"), words("Vouched for"), prose("What was missing")]}
          rows={listed.map((at) => {
            const miss = nearMisses[at]!;
            return [
              <LocalTime at={miss.from} clock={clock} />,
              <Datum of={miss} from={`rules.${index}.margin.nearMisses.${at}`} as="span" />,
              <Names of={miss.inTheWay} />,
              miss.verified ? "yes" : "no",
              miss.why,
            ];
          })}
          under={listed.map((at) => {
            const drawing = drawings[at] ?? null;
            return drawing === null ? null : <Drawn miss={nearMisses[at]!} drawing={drawing} id={`near-${index + 1}-${at + 1}`} clock={clock} />;
          })}
        />
        <LeftOut count={nearMisses.length - listed.length} file="findings.json" />
      </Folded>
    </>
  );
}

/** Which near misses stand in the table: all that are drawn, and the first others, up to what a page can hold; in order. */
function listedPlaces(drawings: readonly (Drawing | null)[], count: number): number[] {
  const places = Array.from({ length: count }, (_, at) => at);
  const isDrawn = (at: number): boolean => (drawings[at] ?? null) !== null;
  return [...places.filter(isDrawn), ...places.filter((at) => !isDrawn(at))].slice(0, MOST_TOLD).sort((a, b) => a - b);
}

function drawnText(drawn: number, count: number): string {
  if (drawn === 0) return "None of them is drawn.";
  if (drawn === count) return drawn === 1 ? "It is drawn, folded under its row." : "Each is drawn, folded under its row.";
  return `The ${drawn === 1 ? "worst is" : `${drawn} worst are`} drawn, folded under the row: those vouched for before the others, the longest first. All are in findings.json.`;
}

function Drawn({ miss, drawing, id, clock }: { miss: NearMissFinding; drawing: Drawing; id: string; clock: LocalClock }): JSX.Element {
  const { excerpt } = miss;
  return (
    <details>
      <summary>Timing diagram</summary>
      <figure>
        <figcaption id={id}>
          One signal away from firing between <LocalTime at={miss.from} clock={clock} /> and <LocalTime at={miss.to} clock={clock} />, under the bar; each line is one signal, high means on.{" "}
          {excerpt !== null && excerpt.to < miss.to ? "Only its beginning is shown. " : ""}In the way: <Names of={miss.inTheWay} />.
        </figcaption>
        <Chart drawing={drawing} labelledBy={id} />
        {excerpt === null ? null : <InWords moment={excerpt} clock={clock} />}
      </figure>
    </details>
  );
}
