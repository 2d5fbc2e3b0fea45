import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { verdict } from "../../result/values.js";
import { amountText, countOf } from "../format.js";
import { LocalTime, useClock } from "./local-time.js";
import { Name } from "./name.js";

/** Which site, which period, made when; and that the file is private. */
export function Title({ findings }: { findings: Findings }): JSX.Element {
  const { site, period, made, rules } = findings;
  const tally = verdict.options
    .map((one) => [rules.filter((rule) => rule.verdict === one).length, one] as const)
    .filter(([count]) => count > 0)
    .map(([count, one]) => `${count} ${one}`);
  return (
    <header>
      <p class="private">
        {findings.redacted
          ? "Names, places and dates were replaced. Times of day are as they were: this file still shows when somebody comes and goes."
          : "This file says when nobody was home. Keep it private."}
      </p>
      <h1>
        <Name of={site.name} /> <span class="question">Which rules are worthy of the key?</span>
      </h1>
      <dl class="facts">
        <div>
          <dt>Period</dt>
          <dd>
            <LocalTime at={period.from} /> to <LocalTime at={period.to} />: {amountText(period.days)} days
          </dd>
        </div>
        <div>
          <dt>Times</dt>
          <dd>
            local, <Name of={useClock().zone} />
          </dd>
        </div>
        <div>
          <dt>Judged</dt>
          <dd>
            {countOf(rules.length, "rule")}, {countOf(findings.signals.length, "signal")}, {countOf(findings.bays.length, "bay")}
            {tally.length === 0 ? "" : `: ${tally.join(", ")}`}
          </dd>
        </div>
        <div>
          <dt>Made</dt>
          <dd>
            <LocalTime at={made.at} /> by {made.by}
          </dd>
        </div>
      </dl>
    </header>
  );
}
