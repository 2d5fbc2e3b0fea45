import type { JSX } from "preact";
import type { Findings } from "../../findings/schema.js";
import { amountText, countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

type ToConfirmFinding = Findings["toConfirm"];

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
            rows={rules.filter((rule) => rule.unverifiedFirings + rule.unverifiedWanted > 0).map((rule) => [
              <Name of={rule.rule} />, String(rule.unverifiedFirings), stakeText(rule.now), stakeText(rule.ifAllRight), stakeText(rule.ifAllWrong), rule.fewestRight === null ? "not even all" : String(rule.fewestRight),
            ])}
          />
          <DataTable
            id="confirm-moments" stacks
            caption={`The first ${moments.length}, most moving first`}
            columns={[words("Moment"), words("When"), words("Looks"), words("If so"), words("If not")]}
            rows={moments.map((moment) => [<Name of={moment.id} />, <LocalTime at={moment.at} clock={clock} />, moment.looks, stakeText(moment.ifSo), stakeText(moment.ifNot)])}
          />
        </>
      )}
    </Section>
  );
}

function stakeText({ verdict, wrongLower, wrongUpper }: ToConfirmFinding["rules"][number]["now"]): string {
  return `${verdict}: ${amountText(wrongLower)} to ${wrongUpper === null ? "any number" : amountText(wrongUpper)} wrong a year`;
}
