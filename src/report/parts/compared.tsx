import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { FigureText } from "./figure-text.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

/** The site's rules beside those that were only tried; nothing when none was. */
export function Compared({ findings }: { findings: Findings }): JSX.Element | null {
  if (findings.tried.length === 0) return null;
  const rules = [...findings.rules.map((rule, i) => ({ rule, path: `rules.${i}`, tried: false })), ...findings.tried.map((rule, i) => ({ rule, path: `tried.${i}`, tried: true }))];
  return (
    <Section id="compared" heading={partHeadings.compared}>
      <DataTable
        id="compared-rules"
        stacks
        caption="The site's rules, and those that were only tried"
        columns={[words("Rule"), words("Act"), words("Verdict"), numbers("Wrong a year, unverified as wrong"), numbers("Share missed or late"), numbers("Median delay"), words("Can do it alone")]}
        rows={rules.map(({ rule, path, tried }) => [
          <>
            <Name of={rule.name} />
            {tried ? " (tried)" : ""}
          </>,
          rule.act,
          rule.verdict,
          <FigureText of={rule.wrongPerYear.unverifiedAsWrong} from={`${path}.wrongPerYear.unverifiedAsWrong`} />,
          <FigureText of={rule.missedShare.unverifiedAsMissed} from={`${path}.missedShare.unverifiedAsMissed`} />,
          <FigureText of={rule.delay.median} from={`${path}.delay.median`} />,
          <Names of={[...rule.singlePoints.signals, ...rule.singlePoints.causes]} />,
        ])}
      />
    </Section>
  );
}
