import type { JSX } from "preact";
import type { Drawing } from "../drawings.js";
import { countOf, heldTogether } from "../format.js";
import { rowsAt, type Traced } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Deciding } from "./deciding.js";
import { Mark, type Sense } from "./mark.js";
import { Name, Names } from "./name.js";
import { Picture } from "./picture.js";
import { Proposals } from "./proposals.js";
import { stillNeeded } from "./still-needed.js";
import type { RuleProposals } from "../../result/proposals.js";
import type { RuleQuestions } from "../../result/questions.js";
import type { RuleFinding } from "../../result/rules.js";

/** What a verdict amounts to. */
export const verdictSense: Readonly<Record<RuleFinding["verdict"], Sense>> = {
  "clear to enable": "clears",
  "not proven yet": "open",
  "do not enable": "breaks",
};

const effectWords = { clears: "speaks for it", open: "not shown yet", breaks: "forbids it", noted: "worth knowing" } as const;

/**
 * The verdict's sentence without the verdict, for places where that stands beside it: "Not proven yet: 20 unverified…"
 * becomes "20 unverified…". Begins with a capital unless that would change somebody's name.
 */
export function sentenceAfterVerdict({
  verdict,
  sentence,
  signals,
  singlePoints,
}: Pick<RuleFinding, "verdict" | "sentence" | "signals" | "singlePoints">): string {
  const opening = `${verdict}: `;
  if (sentence.slice(0, opening.length).toLowerCase() !== opening) return heldTogether(sentence);
  const rest = heldTogether(sentence.slice(opening.length));
  const names = [...signals, ...singlePoints.signals, ...singlePoints.causes];
  return names.some((name) => rest.startsWith(name)) ? rest : rest.charAt(0).toUpperCase() + rest.slice(1);
}

/**
 * One rule's verdict: the phrase, the sentence, three deciding numbers, what would change it; then the reasons and
 * the rule itself.
 */
export function Verdict({ rule, rates, asked, proposals }: { rule: Traced<RuleFinding>; rates: Drawing | null; asked: RuleQuestions | null; proposals: Traced<RuleProposals> | null }): JSX.Element {
  const { name, verdict, evidence, cumulated, wrongPerYear } = rule.of;
  const sense = verdictSense[verdict];
  const id = `rule-${rule.index + 1}`;
  return (
    <article class={`verdict ${sense}`} aria-labelledby={id}>
      <h3 id={id}>
        <Name of={name} />
      </h3>
      <p class="phrase">
        <Mark sense={sense} /> {verdict}
      </p>
      <p class="sentence">{sentenceAfterVerdict(rule.of)}</p>
      <Deciding rule={rule} />
      <p class="rests">{heldTogether(evidence.chanceWithinYear.text)}</p>
      {cumulated === null ? null : (
        <p class="rests">
          The verdict rests on {countOf(cumulated.periods.length, "period")} together; this one alone would have said:{" "}
          {cumulated.periodAlone.verdict} (<a href={`#${id}-months`}>see each</a>).
        </p>
      )}
      <h4>What would change it</h4>
      <ul>
        {stillNeeded(rule.of, asked).map((sentence) => (
          <li>{sentence}</li>
        ))}
      </ul>
      <Reasons rule={rule} id={`${id}-reasons`} />
      <Picture id={`${id}-rates`} drawing={rates}>
        Wrong firings a year: once with the unverified ones taken as right, once as wrong. Dot the rate seen, bar its interval
        {wrongPerYear.limit === null ? "; no limit is set" : ", dashed line the limit"}. The axis closes up towards the right.
      </Picture>
      {proposals === null ? null : <Proposals of={proposals} id={id} />}
      <h4>The rule</h4>
      <Terms rule={rule.of} id={id} />
    </article>
  );
}

/** Why the verdict is what it is: measured numbers against limits. */
function Reasons({ rule, id }: { rule: Traced<RuleFinding>; id: string }): JSX.Element {
  const reasons = rowsAt(rule, "reasons");
  if (reasons.length === 0) return <p>No reasons were recorded.</p>;
  return (
    <DataTable
      id={id}
      stacks
      caption={
        <>
          Reasons for the verdict on “<Name of={rule.of.name} />”
        </>
      }
      rows={reasons}
      columns={[
        { head: "Reason", look: "prose", cell: ({ of }) => heldTogether(of.text) },
        { head: "Measured", path: "", as: "measured against its limit" },
        { head: "Limit", path: "", as: "limit to what was measured" },
        {
          head: "Effect",
          cell: ({ of: { effect } }) => (
            <span class={`effect ${effect}`}>
              <Mark sense={effect} /> {effectWords[effect]}
            </span>
          ),
        },
      ]}
    />
  );
}

/** What the rule does, what it listens to, and how it fared. */
function Terms({ rule, id }: { rule: RuleFinding; id: string }): JSX.Element {
  const { firings, wanted, singlePoints } = rule;
  const seeEach = (target: string): JSX.Element => (
    <>
      {" "}
      (<a href={`#${target}`}>see each</a>)
    </>
  );
  return (
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
        {countOf(firings.count, "time")}: {firings.right} right, {firings.wrong} wrong, {firings.unverified} unverified
        {firings.wrong + firings.unverified === 0 ? null : seeEach(`${id}-firings`)}
      </dd>
      <dt>It was wanted</dt>
      <dd>
        {countOf(wanted.count, "time")}: {wanted.served} served, {wanted.late} late, {wanted.missed} missed; {wanted.verified} of them
        vouched for by a witness outside the rule
        {wanted.late + wanted.missed === 0 ? null : seeEach(`${id}-wanted`)}
      </dd>
      <dt>Enough alone, by lying</dt>
      <dd>
        signals: <Names of={singlePoints.signals} />; shared causes: <Names of={singlePoints.causes} />
      </dd>
    </dl>
  );
}
