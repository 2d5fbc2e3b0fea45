import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { LeftOut, MOST_LISTED } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** How the reason begins; the head of its column says so already. */
const COLUMN_FIRST = /^Stood in the way: /;

/** Moments at which a rule should have acted and did so late or not at all, with what stood in the way. */
export function Wanted({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="wanted" heading={partHeadings.wanted}>
      {findings.rules.length === 0 ? <p>There are no rules to wait for.</p> : null}
      {findings.rules.map((rule, index) => (
        <RuleWanted rule={rule} index={index} clock={clock} />
      ))}
    </Section>
  );
}

function RuleWanted({ rule, index, clock }: { rule: RuleFinding; index: number; clock: LocalClock }): JSX.Element {
  const path = `rules.${index}`;
  const unserved = rule.wantedList.flatMap((wanted, at) => (wanted.outcome === "served" ? [] : [{ ...wanted, path: `${path}.wantedList.${at}` }]));
  const shown = unserved.slice(0, MOST_LISTED);
  return (
    <>
      <h3 id={`rule-${index + 1}-wanted`}>
        <Name of={rule.name} />
      </h3>
      <p>
        Wanted {countOf(rule.wanted.count, "time")}: {rule.wanted.served} served in time, {rule.wanted.late} late, {rule.wanted.missed} missed.
      </p>
      <dl class="terms">
        <dt>Share missed or late, unconfirmed moments taken as missed</dt>
        <dd>
          <FigureText of={rule.missedShare.unverifiedAsMissed} from={`${path}.missedShare.unverifiedAsMissed`} perCent />
        </dd>
        <dt>Share missed or late, unconfirmed moments taken as served</dt>
        <dd>
          <FigureText of={rule.missedShare.unverifiedAsServed} from={`${path}.missedShare.unverifiedAsServed`} perCent />
        </dd>
        <dt>Delay, median</dt>
        <dd>
          <FigureText of={rule.delay.median} from={`${path}.delay.median`} />
        </dd>
        <dt>Delay, 90th percentile</dt>
        <dd>
          <FigureText of={rule.delay.p90} from={`${path}.delay.p90`} />
        </dd>
      </dl>
      {unserved.length === 0 ? null : (
        <DataTable
          id={`wanted-${index + 1}`}
          stacks
          caption={
            <>
              Late and missed moments of “<Name of={rule.name} />”
            </>
          }
          columns={[words("Wanted at"), words("Outcome"), numbers("Late by"), words("Vouched for"), prose("What stood in the way")]}
          rows={shown.map((wanted) => [
            <LocalTime at={wanted.at} clock={clock} />,
            wanted.outcome,
            wanted.delaySeconds === null ? "never came" : <Datum of={wanted.delaySeconds} from={`${wanted.path}.delaySeconds`} as="seconds" />,
            wanted.verified ? "yes" : "no",
            wanted.why === "" ? "not recorded" : wanted.why.replace(COLUMN_FIRST, ""),
          ])}
        />
      )}
      <LeftOut count={unserved.length - shown.length} file="firings.csv" />
    </>
  );
}
