import type { JSX } from "preact";
import { HOUR_SECONDS } from "../../ground/units.js";
import { marginRows } from "../charts/margin-strip.js";
import type { Drawings } from "../drawings.js";
import { lengthText } from "../format.js";
import type { Traced } from "../traced.js";
import { CutSets } from "./cut-sets.js";
import { NearMisses } from "./near-misses.js";
import { Picture } from "./picture.js";
import type { RuleFinding } from "../../result/rules.js";

/** How close a rule came to acting wrongly, what stood in the way, and what it would have taken. */
export function HowClose({ rule, drawings }: { rule: Traced<RuleFinding>; drawings: Pick<Drawings, "margins" | "nearMisses"> }): JSX.Element {
  const drawing = drawings.margins[rule.index] ?? null;
  return (
    <>
      <p>
        A rule that did not act wrongly may have been kept from it by one sensor only. Counted here: how many sensors would have had to read
        differently, at each instant, for the rule to act; and which of them, wrong or silent together, would be enough.
      </p>
      {drawing === null ? <p>Nobody could tell of any time at which acting would have been wrong, so this is not drawn.</p> : null}
      <Picture id={`rule-${rule.index + 1}-margin`} drawing={drawing}>
        How many sensors away from acting the rule was, over the time in which that would have been wrong: full bar its condition held, dashed
        outline one sensor away, thin outline further. {marginText(rule.of.margin)}
      </Picture>
      <NearMisses rule={rule} drawings={drawings.nearMisses[rule.index] ?? []} />
      <CutSets rule={rule} />
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
