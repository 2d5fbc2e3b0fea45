import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import type { Drawing } from "../drawings.js";
import { countOf, heldTogether } from "../format.js";
import { Chart } from "./chart.js";
import { Deciding } from "./deciding.js";
import { Mark, type Sense } from "./mark.js";
import { Name, Names } from "./name.js";
import { Reasons } from "./reasons.js";
import { stillNeeded } from "./still-needed.js";
import { sentenceAfterVerdict } from "./verdict-sentence.js";

/** What a verdict amounts to. */
export const verdictSense: Readonly<Record<RuleFinding["verdict"], Sense>> = {
  "clear to enable": "clears",
  "not proven yet": "open",
  "do not enable": "breaks",
};

/** One rule's verdict: the phrase, the sentence, three deciding numbers, what would change it; then the reasons and the rule itself. */
export function Verdict({ rule, index, rates }: { rule: RuleFinding; index: number; rates: Drawing }): JSX.Element {
  const sense = verdictSense[rule.verdict];
  const id = `rule-${index + 1}`;
  const path = `rules.${index}`;
  return (
    <article class={`verdict ${sense}`} aria-labelledby={id}>
      <h3 id={id}>
        <Name of={rule.name} />
      </h3>
      <p class="phrase">
        <Mark sense={sense} /> {rule.verdict}
      </p>
      <p class="sentence">{sentenceAfterVerdict(rule)}</p>
      <Deciding rule={rule} path={path} />
      <p class="rests">{heldTogether(rule.evidence.chanceWithinYear.text)}</p>
      {rule.cumulated === null ? null : (
        <p class="rests">
          The verdict rests on {countOf(rule.cumulated.periods.length, "period")} together; this one alone would have said: {rule.cumulated.periodAlone.verdict} (<a href={`#${id}-months`}>see each</a>).
        </p>
      )}
      <h4>What would change it</h4>
      <ul>
        {stillNeeded(rule).map((sentence) => (
          <li>{sentence}</li>
        ))}
      </ul>
      <Reasons rule={rule} path={path} id={`${id}-reasons`} />
      <figure>
        <figcaption id={`${id}-rates`}>
          Wrong firings a year: once with the unverified ones taken as right, once as wrong. Dot the rate seen, bar its interval{rule.wrongPerYear.limit === null ? "; no limit is set" : ", dashed line the limit"}. The axis closes up towards the right.
        </figcaption>
        <Chart drawing={rates} labelledBy={`${id}-rates`} />
      </figure>
      <h4>The rule</h4>
      <dl class="terms">
        <dt>It {rule.act}s when</dt>
        <dd>{rule.condition}</dd>
        <dt>A firing is right when</dt>
        <dd>{rule.rightWhen}</dd>
        <dt>It listens to</dt>
        <dd>
          <Names of={rule.signals} />
        </dd>
        <dt>It fired</dt>
        <dd>
          {countOf(rule.firings.count, "time")}: {rule.firings.right} right, {rule.firings.wrong} wrong, {rule.firings.unverified} unverified
          {rule.firings.wrong + rule.firings.unverified === 0 ? null : (
            <>
              {" "}
              (<a href={`#${id}-firings`}>see each</a>)
            </>
          )}
        </dd>
        <dt>It was wanted</dt>
        <dd>
          {countOf(rule.wanted.count, "time")}: {rule.wanted.served} served, {rule.wanted.late} late, {rule.wanted.missed} missed; {rule.wanted.verified} of them vouched for by
          a witness outside the rule
          {rule.wanted.late + rule.wanted.missed === 0 ? null : (
            <>
              {" "}
              (<a href={`#${id}-wanted`}>see each</a>)
            </>
          )}
        </dd>
        <dt>Enough alone, by lying</dt>
        <dd>
          signals: <Names of={rule.singlePoints.signals} />; shared causes: <Names of={rule.singlePoints.causes} />
        </dd>
      </dl>
    </article>
  );
}
