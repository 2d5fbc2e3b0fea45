import type { JSX } from "preact";
import type { RuleFinding } from "../../findings/schema.js";
import { contrastTexts } from "../format.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

const effectWords = { clears: "speaks for it", open: "not shown yet", breaks: "forbids it", noted: "worth knowing" } as const;

/** Why the verdict is what it is: measured numbers against limits. */
export function Reasons({ rule, id }: { rule: RuleFinding; id: string }): JSX.Element {
  if (rule.reasons.length === 0) return <p>No reasons were recorded.</p>;
  return (
    <DataTable
      id={id} stacks
      caption={
        <>
          Reasons for the verdict on “<Name of={rule.name} />”
        </>
      }
      columns={[words("Reason"), numbers("Measured"), numbers("Limit"), words("Effect")]}
      rows={rule.reasons.map((reason) => {
        const [measured, limit] = contrastTexts(reason.measured, reason.limit, reason.unit);
        return [
          reason.text,
          measured ?? "no bound",
          limit ?? "none",
          <span class={`effect ${reason.effect}`}>
            <Mark sense={reason.effect} /> {effectWords[reason.effect]}
          </span>,
        ];
      })}
    />
  );
}
