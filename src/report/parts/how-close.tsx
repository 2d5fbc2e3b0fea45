import type { JSX } from "preact";
import { HOUR_SECONDS } from "../../ground/units.js";
import type { Findings, RuleFinding } from "../../result/schema.js";
import { marginRows } from "../charts/margin-strip.js";
import type { Drawings } from "../drawings.js";
import { lengthText } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { CutSets } from "./cut-sets.js";
import { Name } from "./name.js";
import { NearMisses } from "./near-misses.js";
import { Picture } from "./picture.js";

/** How close each rule came to acting wrongly, what stood in the way, and what it would have taken. */
export function HowClose({ findings, drawings }: { findings: Findings; drawings: Pick<Drawings, "margins" | "nearMisses"> }): JSX.Element {
  return (
    <>
      <p>
        A rule that did not act wrongly may have been kept from it by one signal only. Counted here: how many signals would have had to read
        differently, at each instant, for the rule to fire; and which of them, lying or falling silent together, would be enough.
      </p>
      {rowsAt(whole(findings), "rules").map((rule) => {
        const id = `rule-${rule.index + 1}`;
        const drawing = drawings.margins[rule.index] ?? null;
        return (
          <>
            <h3 id={`${id}-close`}>
              <Name of={rule.of.name} />
            </h3>
            {drawing === null ? <p>Nobody could tell of any time that firing would have been wrong in it, so no margin is shown.</p> : null}
            <Picture id={`${id}-margin`} drawing={drawing}>
              How many signals away from firing the rule was, over the time in which that would have been wrong: full bar its condition
              held, dashed outline one signal away, thin outline further. {marginText(rule.of.margin)}
            </Picture>
            <NearMisses rule={rule} drawings={drawings.nearMisses[rule.index] ?? []} />
            <CutSets rule={rule} />
          </>
        );
      })}
    </>
  );
}

/** The picture in words. */
function marginText({ hoursAtWhileWrong, exact }: RuleFinding["margin"]): string {
  const told = marginRows(hoursAtWhileWrong)
    .filter(({ hours }) => hours > 0)
    .map(({ label, hours }) => `${label} for ${lengthText(hours * HOUR_SECONDS)}`);
  const inexact = exact ? "" : "A signal stands in several places of the condition: more than one away means at least so many. ";
  return `In words: ${told.join(", ")}. ${inexact}The axis closes up towards the right.`;
}
