import type { ComponentChildren, JSX } from "preact";
import type { DrawnFiring } from "../drawings.js";
import { countOf } from "../format.js";
import { Folded, LeftOut, MOST_TOLD } from "./folded.js";
import { useClock } from "./local-time.js";
import { Name } from "./name.js";
import { TimingFigure } from "./timing-figure.js";
import type { RuleFinding } from "../../result/rules.js";

/** Diagrams of a kind that stand open; the rest are folded away but there. */
const MOST_OPEN = { wrong: 4, unverified: 2 } as const;

/** Every firing of a rule that was wrong or unverified: the worst drawn, the others in words. */
export function RuleFirings({ rule, drawn, id }: { rule: RuleFinding; drawn: readonly DrawnFiring[]; id: string }): JSX.Element {
  const figures = (outcome: "wrong" | "unverified"): JSX.Element[] =>
    drawn.flatMap((one, index) =>
      one.firing.outcome === outcome ? [<TimingFigure drawn={one} act={rule.act} id={`${id}-firing-${index + 1}`} />] : [],
    );
  const [wrong, unverified] = [figures("wrong"), figures("unverified")];
  return (
    <>
      <p>
        Each line is one sensor: high means on (occupied, open, here), low means off. Below them stands the rule, and below it, in dashes, what
        most likely happened. Hatched means unknown. Times are local, <Name of={useClock().zone} />.
      </p>
      <p>
        {drawn.length === 0
          ? rule.firings.count === 0
            ? "It never fired in this period, so nothing went wrong, and nothing went right."
            : `All ${countOf(rule.firings.count, "firing")} were right.`
          : `Of ${countOf(rule.firings.count, "firing")}, ${wrong.length} were wrong and ${unverified.length} could not be verified.`}
      </p>
      <Figures figures={wrong} open={MOST_OPEN.wrong} what="wrong" />
      <Figures figures={unverified} open={MOST_OPEN.unverified} what="unverified" />
    </>
  );
}

function Figures({ figures, open, what }: { figures: readonly ComponentChildren[]; open: number; what: string }): JSX.Element {
  const rest = figures.slice(open, MOST_TOLD);
  return (
    <>
      {figures.slice(0, open)}
      {rest.length === 0 ? null : (
        <Folded summary={countOf(rest.length, `more ${what} firing`)}>
          {rest}
        </Folded>
      )}
      <LeftOut count={figures.length - MOST_TOLD} file="firings.csv" />
    </>
  );
}
