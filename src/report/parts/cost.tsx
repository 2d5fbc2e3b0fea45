import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { Folded } from "./folded.js";

/** What a month of each pair of an opening and a closing rule would cost the household; pairs with a rule that must not be enabled are folded. */
export function Cost({ findings }: { findings: Findings }): JSX.Element | null {
  const { cost, rules } = findings;
  if (cost.length === 0) return null;
  const forbidden = new Set(rules.filter(({ verdict }) => verdict === "do not enable").map(({ name }) => name));
  const fit = cost.filter(({ opens, closes }) => !forbidden.has(opens) && (closes === null || !forbidden.has(closes)));
  const unfit = cost.filter((pair) => !fit.includes(pair));
  const list = (pairs: Findings["cost"]): JSX.Element => (
    <ul>
      {pairs.map(({ line }) => (
        <li>{line}</li>
      ))}
    </ul>
  );
  return (
    <div class="notes">
      <p>What a month of 30 days would cost:</p>
      {fit.length === 0 ? null : list(fit)}
      {unfit.length === 0 ? null : <Folded summary={`${countOf(unfit.length, "pair")} with a rule that is not to be enabled`}>{list(unfit)}</Folded>}
    </div>
  );
}
