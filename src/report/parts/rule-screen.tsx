import { certaintyText } from "../../ground/certainty.js";
import type { ComponentChildren, JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { RuleDecision } from "../../result/decision.js";
import type { RuleFinding } from "../../result/rules.js";
import { roundedOutward } from "../decimals.js";
import type { Drawings } from "../drawings.js";
import { amountText } from "../format.js";
import { ruleId } from "../rule-id.js";
import { rowsAt, type Traced, tracedAt, whole } from "../traced.js";
import { LocalTime } from "./local-time.js";
import { proposalsFor } from "./proposals.js";
import { MonthStrip } from "./month-strip.js";
import { Name } from "./name.js";
import { RoadsStrip } from "./roads-strip.js";
import { RuleFolds } from "./rule-folds.js";
import { Scene } from "./scene.js";
import { leadText } from "./sentence.js";
import { verdictClass, VerdictMark } from "./verdict-mark.js";

interface Properties {
  readonly rule: Traced<RuleFinding>;
  readonly findings: Findings;
  readonly drawings: Drawings;
}

/** Rules that stand open: the one nearest to use, and the worst. The others are folded, all there. */
export function Rules({ findings, drawings }: Omit<Properties, "rule">): JSX.Element {
  const rules = rowsAt(whole(findings), "rules");
  const open = new Set(openRules(findings.rules));
  return (
    <>
      {rules.map((rule) => {
        const body = <RuleBody rule={rule} findings={findings} drawings={drawings} />;
        return open.has(rule.index) ? <OpenRule rule={rule.of} index={rule.index}>{body}</OpenRule> : <FoldedRule rule={rule.of} index={rule.index} decision={findings.decision.rules[rule.index] ?? null}>{body}</FoldedRule>;
      })}
    </>
  );
}

const nearestFirst: readonly RuleFinding["verdict"][] = ["clear to enable", "not proven yet", "do not enable"];

/** Places of the rule nearest to use and of the one with the most wrong acts among those that are refused. */
export function openRules(rules: readonly Pick<RuleFinding, "verdict" | "bounds" | "firings">[]): number[] {
  const places = rules.map((rule, index) => ({ rule, index }));
  const nearest = places.toSorted((a, b) => nearestFirst.indexOf(a.rule.verdict) - nearestFirst.indexOf(b.rule.verdict) || a.index - b.index)[0];
  const worst = places.filter(({ rule }) => rule.verdict === "do not enable").toSorted((a, b) => b.rule.firings.wrong - a.rule.firings.wrong || a.index - b.index)[0];
  return [...new Set([nearest, worst].flatMap((one) => (one === undefined ? [] : [one.index])))];
}

interface Shell {
  readonly rule: RuleFinding;
  readonly index: number;
  readonly children: ComponentChildren;
}

function OpenRule({ rule, index, children }: Shell): JSX.Element {
  return (
    <section class="rule" id={ruleId(index)} aria-labelledby={`${ruleId(index)}-name`}>
      <div class="rule-head">
        <VerdictMark verdict={rule.verdict} />
        <h2 id={`${ruleId(index)}-name`}>
          <Name of={rule.name} />
        </h2>
        <b class={verdictClass[rule.verdict]}>{rule.verdict}</b>
      </div>
      {children}
    </section>
  );
}

function FoldedRule({ rule, index, decision, children }: Shell & { decision: RuleDecision | null }): JSX.Element {
  return (
    <details class="rule folded-rule">
      <summary>
        <VerdictMark verdict={rule.verdict} /> <span class="rule-name"><Name of={rule.name} /></span> <b class={verdictClass[rule.verdict]}>{rule.verdict}</b>
        <span class="fact">{factText(rule, decision)}</span>
      </summary>
      <div class="rule-body" id={ruleId(index)}>
        {children}
      </div>
    </details>
  );
}

/** The number that matters of a rule that is folded. */
function factText({ wrongPerYear: { limit, limitInWords } }: RuleFinding, decision: RuleDecision | null): string {
  const [counted] = decision?.roads ?? [];
  if (counted === undefined || counted.perYear === null) return counted?.text ?? "";
  const bound = amountText(roundedOutward(counted.perYear, 2, counted.side === "at most" ? "up" : "down"));
  return `${counted.side} ${bound} wrong a year${limit === null ? "" : `, your limit ${limitInWords ?? amountText(limit)}`}`;
}

function RuleBody({ rule, findings, drawings }: Properties): JSX.Element {
  const id = ruleId(rule.index);
  const decision = rowsAt(tracedAt(whole(findings), "decision"), "rules")[rule.index];
  const { of } = rule;
  return (
    <>
      <p class="lead">{leadText(of)}</p>
      {decision === undefined ? null : (
        <>
          <div class="two">
            <Worst decision={decision.of} id={id} />
            <div>
              <figure>
                <figcaption id={`${id}-roads`}>
                  <b>How many wrong a year?</b> A bar is what the evidence allows, {certaintyText(findings.site.confidence)}.
                </figcaption>
                <RoadsStrip decision={decision} limit={of.wrongPerYear.limit} labelledBy={`${id}-roads`} />
              </figure>
              <Steps decision={decision.of} links={{ answer: findings.questions.rules.length > 0 ? "confirm" : null, "try better": proposalsFor(findings, of.name) === null ? null : `${id}-better` }} />
            </div>
          </div>
          {of.firings.wrong + of.firings.unverified === 0 ? null : (
            <figure>
              <figcaption id={`${id}-month`}>
                <b>Every time it acted</b>, by day and hour{decision.of.unheard.length === 0 ? "" : "; hatched: sensors it needs were silent"}.
              </figcaption>
              <MonthStrip rule={of} findings={findings} size="large" labelledBy={`${id}-month`} />
            </figure>
          )}
        </>
      )}
      <RuleFolds rule={rule} findings={findings} drawings={drawings} />
    </>
  );
}

/** What to do, the first thing first, each with what to type. */
function Steps({ decision: { steps }, links }: { decision: RuleDecision; links: Readonly<Record<"answer" | "try better", string | null>> }): JSX.Element {
  // Where the page itself has what the command would show.
  const targetOf = (sort: RuleDecision["steps"][number]["sort"]): string | null => (sort === "answer" ? links.answer : sort === "try better" ? links["try better"] : null);
  return (
    <ol class="steps">
      {steps.map(({ sort, text, why, command }) => (
        <li>
          <StepText text={text} target={targetOf(sort)} /> {why}
          {command === null ? null : (
            <>
              {" "}
              <code>{command}</code>
            </>
          )}
        </li>
      ))}
    </ol>
  );
}

function StepText({ text, target }: { text: string; target: string | null }): JSX.Element {
  return target === null ? (
    <b>{text}</b>
  ) : (
    <a href={`#${target}`}>
      <b>{text}</b>
    </a>
  );
}

function Worst({ decision: { worst }, id }: { decision: RuleDecision; id: string }): JSX.Element {
  if (worst === null) {
    return (
      <div>
        <p>No moment is known at which it failed.</p>
      </div>
    );
  }
  return (
    <figure>
      <figcaption id={`${id}-worst`}>
        <b>Its worst moment: {worst.title}.</b> <LocalTime at={worst.at} />.
        <span class={worst.cause === null ? "" : "said"}> {worst.text}</span>
      </figcaption>
      <Scene of={worst} labelledBy={`${id}-worst`} />
    </figure>
  );
}
