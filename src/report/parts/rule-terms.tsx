import type { JSX } from "preact";
import { countOf } from "../format.js";
import { Names } from "./name.js";
import type { RuleFinding } from "../../result/rules.js";

/** What the rule does, what it listens to, and how it fared. */
export function RuleTerms({ rule }: { rule: RuleFinding }): JSX.Element {
  const { firings, wanted, singlePoints } = rule;
  return (
    <dl class="terms">
      <dt>It {rule.act}s when</dt>
      <dd>{rule.condition}</dd>
      <dt>It is right when</dt>
      <dd>{rule.rightWhen}</dd>
      <dt>It listens to</dt>
      <dd>
        <Names of={rule.signals} />
      </dd>
      <dt>It acted</dt>
      <dd>
        {countOf(firings.count, "time")}: {firings.right} right, {firings.wrong} wrong, {firings.unverified} unverified
      </dd>
      <dt>It was needed</dt>
      <dd>
        {countOf(wanted.count, "time")}: {wanted.served} served, {wanted.late} late, {wanted.missed} missed; {wanted.verified} of them
        confirmed by sensors the rule does not use
      </dd>
      <dt>Sensors that could trigger it alone</dt>
      <dd>
        <Names of={singlePoints.signals} />; shared causes: <Names of={singlePoints.causes} />
      </dd>
    </dl>
  );
}
