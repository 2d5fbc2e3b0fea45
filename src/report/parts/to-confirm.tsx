import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** So many stand in the report; to-confirm.csv has the rest. */
const MOST_SHOWN = 30;

/** The moments worth checking against memory, and what their truth would move. */
export function ToConfirm({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  const { count, moments, rules } = findings.toConfirm;
  return (
    <Section id="confirm" heading={partHeadings.confirm}>
      {count === 0 ? (
        <p>Nothing is unverified: every firing and every wanted instant has a witness outside the rule.</p>
      ) : (
        <>
          <p>
            For {countOf(count, "moment")} nobody outside the rule can tell what was so. Those whose truth would move a verdict most stand below and in to-confirm.csv: write what you remember into its
            state column, leave the rest blank, and name the file under <code>diary</code> in the site file.
          </p>
          <DataTable
            id="confirm-rules" stacks
            caption="What all unverified moments together could do to each verdict"
            columns={[words("Rule"), numbers("Unverified firings"), words("Now"), words("If all were right"), words("If all were wrong"), words("Fewest right that change it")]}
            rows={rules
              .map((rule, index) => ({ rule, path: `toConfirm.rules.${index}` }))
              .filter(({ rule }) => rule.unverifiedFirings + rule.unverifiedWanted > 0)
              .map(({ rule, path }) => [
                <Name of={rule.rule} />,
                <Datum of={rule.unverifiedFirings} from={`${path}.unverifiedFirings`} as="count" />,
                ...(["now", "ifAllRight", "ifAllWrong"] as const).map((when) => <Datum of={rule[when]} from={`${path}.${when}`} as="stake" />),
                rule.fewestRight === null ? "not even all" : <Datum of={rule.fewestRight} from={`${path}.fewestRight`} as="count" />,
              ])}
          />
          <DataTable
            id="confirm-moments" stacks
            caption={`The first ${Math.min(moments.length, MOST_SHOWN)}, most moving first`}
            columns={[words("Moment"), words("When"), words("Looks"), words("If so"), words("If not")]}
            rows={moments.slice(0, MOST_SHOWN).map((moment, index) => [
              <Name of={moment.id} />,
              <LocalTime at={moment.at} clock={clock} />,
              moment.looks,
              ...(["ifSo", "ifNot"] as const).map((when) => <Datum of={moment[when]} from={`toConfirm.moments.${index}.${when}`} as="stake" />),
            ])}
          />
        </>
      )}
    </Section>
  );
}
