import type { ComponentChildren, JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import type { DrawnFiring, Drawings } from "../drawings.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { LeftOut, MOST_TOLD } from "./left-out.js";
import { Name } from "./name.js";
import { Section } from "./section.js";
import { TimingFigure } from "./timing-figure.js";

/** So many diagrams of a kind stand open; the rest are folded away but there. */
const MOST_OPEN = { wrong: 6, unverified: 2 } as const;

/** Every firing that was wrong, or that nobody could vouch for, rule by rule. */
export function GoneWrong({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="wrong" heading={partHeadings.wrong}>
      <p>
        Each line is one signal: high means on (occupied, open, here), low means off. Below the signals stands the rule, below it, in dashes, what most likely was so. Hatched
        means unknown. Times are local, <Name of={clock.zone} />.
      </p>
      {findings.rules.length === 0 ? <p>There are no rules to replay.</p> : null}
      {findings.rules.map((rule, index) => (
        <RuleFirings rule={rule} drawn={drawings.firings[index] ?? []} id={`rule-${index + 1}`} clock={clock} />
      ))}
    </Section>
  );
}

function RuleFirings({ rule, drawn, id, clock }: { rule: RuleFinding; drawn: readonly DrawnFiring[]; id: string; clock: LocalClock }): JSX.Element {
  const figures = (outcome: "wrong" | "unverified"): JSX.Element[] =>
    drawn.flatMap((one, index) => (one.firing.outcome === outcome ? [<TimingFigure drawn={one} act={rule.act} id={`${id}-firing-${index + 1}`} clock={clock} />] : []));
  const [wrong, unverified] = [figures("wrong"), figures("unverified")];
  return (
    <>
      <h3 id={`${id}-firings`}>
        <Name of={rule.name} />
      </h3>
      <p>
        {drawn.length === 0
          ? rule.firings.count === 0
            ? "It never fired in this period, so nothing went wrong, and nothing went right."
            : `All ${countOf(rule.firings.count, "firing")} were right.`
          : `Of ${countOf(rule.firings.count, "firing")}, ${wrong.length} were wrong and ${unverified.length} could not be verified.`}
      </p>
      <Folded figures={wrong} open={MOST_OPEN.wrong} what="wrong" />
      <Folded figures={unverified} open={MOST_OPEN.unverified} what="unverified" />
    </>
  );
}

function Folded({ figures, open, what }: { figures: readonly ComponentChildren[]; open: number; what: string }): JSX.Element {
  const rest = figures.slice(open, MOST_TOLD);
  return (
    <>
      {figures.slice(0, open)}
      {rest.length === 0 ? null : (
        <details class="folded">
          <summary>{countOf(rest.length, `more ${what} firing`)}</summary>
          {rest}
          <LeftOut count={figures.length - MOST_TOLD} file="firings.csv" />
        </details>
      )}
    </>
  );
}
