import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { RuleFinding } from "../../result/rules.js";
import type { Drawings } from "../drawings.js";
import { countOf, countText } from "../format.js";
import { ruleId } from "../rule-id.js";
import type { Traced } from "../traced.js";
import { Cumulated } from "./cumulated.js";
import { Drills } from "./drills.js";
import { Fold } from "./fold.js";
import { RuleFirings } from "./gone-wrong.js";
import { HowClose } from "./how-close.js";
import { Proposals, proposalsFor } from "./proposals.js";
import { Reasons } from "./reasons.js";
import { hasRoads, Roads } from "./roads.js";
import { sentenceAfterVerdict } from "./sentence.js";
import { RuleTerms } from "./rule-terms.js";
import { Tuning } from "./tuning.js";
import { RuleWanted } from "./wanted.js";

/** Everything else about a rule, a line each; what has nothing to say is not there. */
export function RuleFolds({ rule, findings, drawings }: { rule: Traced<RuleFinding>; findings: Findings; drawings: Drawings }): JSX.Element {
  const { of, index } = rule;
  const id = ruleId(index);
  const { firings, wanted, reasons, drills, hostile, tuning, cumulated } = of;
  const judged = reasons.filter(({ effect }) => effect !== "noted");
  const proposals = proposalsFor(findings, of.name);
  return (
    <div class="folds">
      <Fold id={`${id}-reasons-fold`} summary="Reasons" number={`${judged.filter(({ effect }) => effect === "clears").length} of ${judged.length} pass`}>
        {of.verdict === "clear to enable" ? <p>{sentenceAfterVerdict(of)}</p> : null}
        <Reasons rule={rule} id={`${id}-reasons`} />
        <p>{of.evidence.chanceWithinYear.text}</p>
      </Fold>
      {firings.count === 0 ? null : (
        <Fold id={`${id}-firings`} summary={`All ${countText(firings.count)} ${actWords[of.act]}`} number={firings.wrong > 0 ? `${countText(firings.wrong)} wrong` : `${countText(firings.unverified)} unverified`}>
          <RuleFirings rule={of} drawn={drawings.firings[index] ?? []} id={id} />
        </Fold>
      )}
      {wanted.late + wanted.missed === 0 ? null : (
        <Fold id={`${id}-wanted`} summary="Late or missed" number={`${countText(wanted.late + wanted.missed)} of ${countText(wanted.count)}`}>
          <RuleWanted rule={rule} />
        </Fold>
      )}
      <Fold id={`${id}-close`} summary="What could fool it" number={fewestText(of)}>
        <HowClose rule={rule} drawings={drawings} />
      </Fold>
      {hasRoads(of) ? (
        <Fold id={`${id}-both-roads`} summary="Counted and by design" number={nearestText(of)}>
          <Roads rule={rule} drawing={drawings.claims[index] ?? null} />
        </Fold>
      ) : null}
      {drills.length + hostile.length === 0 ? null : (
        <Fold id={`${id}-drills`} summary="Test faults" number={harmText(of)}>
          <Drills rule={rule} drawing={drawings.drills[index] ?? null} />
        </Fold>
      )}
      {tuning === null ? null : (
        <Fold id={`${id}-settings`} summary="Other settings" number={`${countText(tuning.tried)} tried`}>
          <Tuning rule={rule} drawing={drawings.tuning[index] ?? null} />
        </Fold>
      )}
      {proposals === null || (of.verdict === "clear to enable" && proposals.of.proposals.length === 0) ? null : (
        <Fold id={`${id}-better`} summary="Better rules" number={proposals.of.proposals.length === 0 ? "none found" : `${proposals.of.proposals.length} found`}>
          <Proposals of={proposals} id={id} />
        </Fold>
      )}
      {cumulated === null ? null : (
        <Fold id={`${id}-over-months`} summary="All months together" number={countOf(cumulated.periods.length, "month")}>
          <Cumulated rule={rule} />
        </Fold>
      )}
      <Fold id={`${id}-written`} summary="The rule in words" number={countOf(of.signals.length, "sensor")}>
        <RuleTerms rule={of} />
      </Fold>
    </div>
  );
}

/** How many of the faults put in, and of the hostile scenes, make it act wrongly. */
function harmText({ drills, hostile, act }: RuleFinding): string {
  const faults = `${countText(drills.filter(({ wrongGained }) => wrongGained > 0).length)} of ${countText(drills.length)} do harm`;
  const scenes = hostile.filter(({ unlocks }) => unlocks).length;
  return scenes === 0 ? faults : `${faults}, ${countOf(scenes, "scene")} ${act}${scenes === 1 ? "s" : ""}`;
}

const actWords: Readonly<Record<RuleFinding["act"], string>> = { unlock: "unlocks", lock: "lockings", disarm: "disarmings", arm: "armings" };

/** How many must be wrong together, at the least. */
function fewestText({ cutSets: { firing }, act }: RuleFinding): string {
  const [smallest] = firing.sets;
  if (smallest === undefined) return `more than ${firing.upToSize} false reports at once`;
  const size = smallest.signals.length + smallest.causes.length;
  return size === 1 ? `one can ${act} it` : `${size} false reports at once`;
}

/** The smaller of what both roads can show today. */
function nearestText({ claims: own, cumulated }: RuleFinding): string {
  const [now] = cumulated?.claims ?? own;
  const least = Math.min(now?.byCounting ?? Infinity, now?.byDesign ?? Infinity);
  return Number.isFinite(least) ? `${countText(Math.ceil(least))} a year at most` : "nothing yet";
}
