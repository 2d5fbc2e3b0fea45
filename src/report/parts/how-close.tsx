import type { JSX } from "preact";
import { marginRows } from "../charts/margin-strip.js";
import type { Findings, RuleFinding } from "../../findings/schema.js";
import type { Drawing } from "../drawings.js";
import { countOf, lengthText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { CutSets } from "./cut-sets.js";
import { DataTable, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_LISTED } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

/** So many near misses stand unfolded. */
const MOST_OPEN = 4;
const HOUR_SECONDS = 3600;

interface Properties {
  readonly findings: Findings;
  /** A rule each; null where no time was spent at which firing would have been wrong. */
  readonly margins: readonly (Drawing | null)[];
  readonly clock: LocalClock;
}

/** How close each rule came to acting wrongly, what stood in the way, and what it would have taken. */
export function HowClose({ findings, margins, clock }: Properties): JSX.Element {
  return (
    <Section id="close" heading={partHeadings.close}>
      <p>
        A rule that did not act wrongly may have been kept from it by one signal only. Counted here: how many signals would have had to read differently, at each instant, for the rule to fire; and which of
        them, lying or falling silent together, would be enough.
      </p>
      {findings.rules.length === 0 ? <p>There are no rules to come close to anything.</p> : null}
      {findings.rules.map((rule, index) => (
        <RuleClose rule={rule} index={index} drawing={margins[index] ?? null} clock={clock} />
      ))}
    </Section>
  );
}

function RuleClose({ rule, index, drawing, clock }: { rule: RuleFinding; index: number; drawing: Drawing | null; clock: LocalClock }): JSX.Element {
  const id = `rule-${index + 1}`;
  return (
    <>
      <h3 id={`${id}-close`}>
        <Name of={rule.name} />
      </h3>
      {drawing === null ? (
        <p>Nobody could tell of any time that firing would have been wrong in it, so no margin is shown.</p>
      ) : (
        <figure>
          <figcaption id={`${id}-margin`}>
            How many signals away from firing the rule was, over the time in which that would have been wrong: full bar its condition held, dashed outline one signal away, thin outline further.{" "}
            {marginText(rule.margin)}
          </figcaption>
          <Chart drawing={drawing} labelledBy={`${id}-margin`} />
        </figure>
      )}
      <NearMisses rule={rule} index={index} clock={clock} />
      <CutSets rule={rule} index={index} />
    </>
  );
}

/** The picture in words. */
function marginText({ hoursAtWhileWrong, exact }: RuleFinding["margin"]): string {
  const told = marginRows(hoursAtWhileWrong)
    .filter(({ hours }) => hours > 0)
    .map(({ label, hours }) => `${label} for ${lengthText(hours * HOUR_SECONDS)}`);
  return `In words: ${told.join(", ")}. ${exact ? "" : "A signal stands in several places of the condition: more than one away means at least so many. "}The axis closes up towards the right.`;
}

function NearMisses({ rule, index, clock }: { rule: RuleFinding; index: number; clock: LocalClock }): JSX.Element {
  const { nearMisses } = rule.margin;
  if (nearMisses.length === 0) return <p>At no time did one signal alone stand between this rule and a wrong firing.</p>;
  const vouched = nearMisses.filter(({ verified }) => verified).length;
  return (
    <>
      <p>
        {countOf(nearMisses.length, "time")} one signal alone stood between this rule and a wrong firing; for {vouched} of them a witness outside the rule, or the diary, says that it would have been wrong.
      </p>
      <Folded summary={`All ${countOf(nearMisses.length, "near miss", "near misses")}`} when={nearMisses.length > MOST_OPEN}>
        <DataTable
          id={`near-${index + 1}`}
          stacks
          caption={
            <>
              Near misses of “<Name of={rule.name} />”, and what stood in the way: each of the signals alone would have done
            </>
          }
          columns={[words("From"), words("For"), words("In the way"), words("Vouched for"), prose("What was missing")]}
          rows={nearMisses.slice(0, MOST_LISTED).map((miss, at) => [
            <LocalTime at={miss.from} clock={clock} />,
            <Datum of={miss} from={`rules.${index}.margin.nearMisses.${at}`} as="span" />,
            <Names of={miss.inTheWay} />,
            miss.verified ? "yes" : "no",
            miss.why,
          ])}
        />
        <LeftOut count={nearMisses.length - MOST_LISTED} file="findings.json" />
      </Folded>
    </>
  );
}
