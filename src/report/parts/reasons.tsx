import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import { heldTogether } from "../format.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

const effectWords = { clears: "speaks for it", open: "not shown yet", breaks: "forbids it", noted: "worth knowing" } as const;

/** Why the verdict is what it is: measured numbers against limits. */
export function Reasons({ rule, path, id }: { rule: RuleFinding; path: string; id: string }): JSX.Element {
  if (rule.reasons.length === 0) return <p>No reasons were recorded.</p>;
  return (
    <DataTable
      id={id} stacks
      caption={
        <>
          Reasons for the verdict on “<Name of={rule.name} />”
        </>
      }
      columns={[prose("Reason"), numbers("Measured"), numbers("Limit"), words("Effect")]}
      rows={rule.reasons.map((reason, index) => [
        heldTogether(reason.text),
        <Datum of={reason} from={`${path}.reasons.${index}`} as="measured against its limit" />,
        <Datum of={reason} from={`${path}.reasons.${index}`} as="limit to what was measured" />,
        <span class={`effect ${reason.effect}`}>
          <Mark sense={reason.effect} /> {effectWords[reason.effect]}
        </span>,
      ])}
    />
  );
}
