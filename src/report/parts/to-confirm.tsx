import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";

/** Moments in the report; to-confirm.csv has the rest. */
const MOST_SHOWN = 30;

/** The moments worth checking against memory, and what their truth would move. */
export function ToConfirm({ findings }: { findings: Findings }): JSX.Element {
  const { count, moments } = findings.toConfirm;
  return (
    <>
      <p>
        For {countOf(count, "moment")} nobody outside the rule can tell what was so. Those whose truth would move a verdict most stand below
        and in to-confirm.csv: write what you remember into its state column, leave the rest blank, and name the file under{" "}
        <code>diary</code> in the site file.
      </p>
      <DataTable
        id="confirm-rules"
        stacks
        caption="What all unverified moments together could do to each verdict"
        rows={rowsAt(whole(findings), "toConfirm.rules").filter(({ of }) => of.unverifiedFirings + of.unverifiedWanted > 0)}
        columns={[
          { head: "Rule", path: "rule", as: "name" },
          { head: "Unverified firings", path: "unverifiedFirings", as: "count" },
          { head: "Now", path: "now", as: "stake" },
          { head: "If all were right", path: "ifAllRight", as: "stake" },
          { head: "If all were wrong", path: "ifAllWrong", as: "stake" },
          { head: "Fewest right that change it", path: "fewestRight", as: "count", look: "words", none: "not even all" },
        ]}
      />
      <DataTable
        id="confirm-moments"
        stacks
        caption={`The first ${Math.min(moments.length, MOST_SHOWN)}, most moving first`}
        rows={rowsAt(whole(findings), "toConfirm.moments").slice(0, MOST_SHOWN)}
        columns={[
          { head: "Moment", path: "id", as: "name" },
          { head: "When", path: "at", as: "time" },
          { head: "Looks", path: "looks", as: "text" },
          { head: "If so", path: "ifSo", as: "stake" },
          { head: "If not", path: "ifNot", as: "stake" },
        ]}
      />
    </>
  );
}
