import { capitalised } from "../../ground/first-letter.js";
import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { RuleDecision } from "../../result/decision.js";
import { rowsAt, type Traced, whole } from "../traced.js";
import { ruleId } from "../rule-id.js";
import { MonthStrip, StripKey } from "./month-strip.js";
import { Name } from "./name.js";
import { sensorAnchor, SensorWhy } from "./sensor-rows.js";
import { verdictClass, VerdictMark } from "./verdict-mark.js";
import type { RuleFinding } from "../../result/rules.js";

/** Things to mend that stand in the first screen. */
const MOST_MENDED = 3;
/** Rules with a strip of their own in the first screen; further ones are told in words. */
const MOST_STRIPS = 6;

/** The first screen: the answer in a line, a row a rule, what to mend first, and the caution in a line. */
export function Answer({ findings }: { findings: Findings }): JSX.Element {
  const rules = rowsAt(whole(findings), "rules");
  return (
    <section id="answer" aria-labelledby="headline">
      <h1 id="headline">{findings.decision.headline}</h1>
      {rules.length === 0 ? null : (
        <>
          <div class="heads" aria-hidden="true">
            <span>Rule and verdict</span>
            <span>What was seen</span>
            <span>
              <StripKey rules={findings.rules} />
            </span>
            <span>Do next</span>
          </div>
          <ul class="rows">
            {rules.map((rule) => (
              <Row rule={rule} decision={findings.decision.rules[rule.index] ?? null} findings={findings} />
            ))}
          </ul>
        </>
      )}
      <Mend findings={findings} />
      <p class="caution-line">
        Evidence about logs, not a safety certificate. <a href="#caution">Before you act</a>
      </p>
    </section>
  );
}

function Row({ rule: { of, index }, decision, findings }: { rule: Traced<RuleFinding>; decision: RuleDecision | null; findings: Findings }): JSX.Element {
  const id = `seen-${index + 1}`;
  const next = decision?.steps.slice(0, 2).map(({ short }) => short) ?? [];
  return (
    <li class="row">
      <div class="who">
        <VerdictMark verdict={of.verdict} />
        <div>
          <a class="rule-name" href={`#${ruleId(index)}`}>
            <Name of={of.name} />
          </a>{" "}
          <b class={verdictClass[of.verdict]}>{of.verdict}</b>
          {decision?.shortfall == null ? null : <small>{decision.shortfall}</small>}
        </div>
      </div>
      <p class="seen" id={id}>
        {decision?.seen}
      </p>
      <div class="strip-cell">{index < MOST_STRIPS ? <MonthStrip rule={of} findings={findings} size="small" labelledBy={id} /> : null}</div>
      <p class="next">{next.length === 0 ? "" : `${capitalised(next.join("; "))}.`}</p>
    </li>
  );
}

function Mend({ findings }: { findings: Findings }): JSX.Element | null {
  const first = inOrder(findings).slice(0, MOST_MENDED);
  if (first.length === 0) return null;
  return (
    <div class="mend-first">
      <h2>Mend first</h2>
      <ol>
        {first.map((one, i) => (
          <li>
            <MendText one={one} findings={findings} isFirst={i === 0} /> <MendWhy one={one} findings={findings} />
          </li>
        ))}
      </ol>
    </div>
  );
}

/** What to mend, with a way to the row of the sensor where it is one. */
function MendText({ one, findings, isFirst }: { one: Findings["mend"][number]; findings: Findings; isFirst: boolean }): JSX.Element {
  const anchor = one.what === "signal" || one.what === "band" ? sensorAnchor(findings, one.target) : null;
  const text = isFirst ? <b>{one.text}</b> : <>{one.text}</>;
  return anchor === null ? text : <a href={`#${anchor}`}>{text}</a>;
}

/** What is wrong with it and since when, and what that did first of all. */
function MendWhy({ one, findings }: { one: Findings["mend"][number]; findings: Findings }): JSX.Element {
  const sensor = (findings.sensors ?? []).find(({ signal }) => one.what !== "cause" && signal === one.target);
  const effect = effectsOnKept(one, findings)[0] ?? one.rules[0];
  const [did] = effect?.did ?? [];
  const saysFirst = sensor !== undefined;
  return (
    <>
      {saysFirst ? <SensorWhy sensor={sensor} opens /> : null}
      {did === undefined ? "" : saysFirst ? `; ${did}` : capitalised(did)}.
    </>
  );
}

/** What it did to rules that are not refused. */
function effectsOnKept({ rules: effects }: Findings["mend"][number], { rules }: Findings): Findings["mend"][number]["rules"] {
  const refused = new Set(rules.filter(({ verdict }) => verdict === "do not enable").map(({ name }) => name));
  return effects.filter(({ rule, wrong, maybeWrong, failed, unjudged }) => !refused.has(rule) && wrong + maybeWrong + failed + unjudged > 0);
}

/** First what stands in the way of a rule that may yet be used; of those, and of the others, the gravest first. */
function inOrder(findings: Findings): Findings["mend"] {
  const [kept, others] = [true, false].map((isKept) => findings.mend.filter((one) => effectsOnKept(one, findings).length > 0 === isKept));
  return [...(kept ?? []), ...(others ?? [])];
}
