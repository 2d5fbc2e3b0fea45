import type { JSX } from "preact";
import { marginRows } from "../charts/margin-strip.js";
import type { Findings, RuleFinding } from "../../result/schema.js";
import type { Drawing, Drawings } from "../drawings.js";
import { lengthText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { CutSets } from "./cut-sets.js";
import { Name } from "./name.js";
import { NearMisses } from "./near-misses.js";
import { Section } from "./section.js";
import { HOUR_SECONDS } from "../../ground/units.js";


interface Properties {
  readonly findings: Findings;
  readonly drawings: Pick<Drawings, "margins" | "nearMisses">;
  readonly clock: LocalClock;
}

/** How close each rule came to acting wrongly, what stood in the way, and what it would have taken. */
export function HowClose({ findings, drawings, clock }: Properties): JSX.Element {
  return (
    <Section id="close" heading={partHeadings.close}>
      <p>
        A rule that did not act wrongly may have been kept from it by one signal only. Counted here: how many signals would have had to read differently, at each instant, for the rule to fire; and which of
        them, lying or falling silent together, would be enough.
      </p>
      {findings.rules.length === 0 ? <p>There are no rules to come close to anything.</p> : null}
      {findings.rules.map((rule, index) => (
        <RuleClose rule={rule} index={index} drawing={drawings.margins[index] ?? null} nearMisses={drawings.nearMisses[index] ?? []} clock={clock} />
      ))}
    </Section>
  );
}

function RuleClose({ rule, index, drawing, nearMisses, clock }: { rule: RuleFinding; index: number; drawing: Drawing | null; nearMisses: readonly (Drawing | null)[]; clock: LocalClock }): JSX.Element {
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
      <NearMisses rule={rule} index={index} drawings={nearMisses} clock={clock} />
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
