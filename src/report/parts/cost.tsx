import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";

/** What a month of 30 days would look like with each pair of an opening and a closing rule; pairs with a rule that is refused last. */
export function Cost({ findings: { cost, rules } }: { findings: Findings }): JSX.Element {
  const refused = new Set(rules.filter(({ verdict }) => verdict === "do not enable").map(({ name }) => name));
  const isFit = ({ opens, closes }: Findings["cost"][number]): boolean => !refused.has(opens) && (closes === null || !refused.has(closes));
  return (
    <ul>
      {[...cost.filter(isFit), ...cost.filter((pair) => !isFit(pair))].map(({ line }) => (
        <li>{line}</li>
      ))}
    </ul>
  );
}
