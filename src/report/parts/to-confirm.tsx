import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";

/** The questions whose answers can change a verdict, and what answers can do for each rule. */
export function ToConfirm({ findings }: { findings: Findings }): JSX.Element {
  const { list } = findings.questions;
  return (
    <>
      {list.length === 0 ? (
        <p>No answers of yours can change a verdict now, so nothing is asked.</p>
      ) : (
        <>
          <p>
            Somebody who was there can tell what no sensor outside the rule can. Answer at the terminal with <code>keyworthy confirm</code>, or fill in
            to-confirm.csv and name it under <code>diary</code> in the site file. What nobody remembers stays open.
          </p>
          <ol>
            {list.map(({ text }) => (
              <li>{text}</li>
            ))}
          </ol>
        </>
      )}
      <DataTable
        id="confirm-rules"
        stacks
        caption="What answers can do for each rule"
        rows={rowsAt(whole(findings), "questions.rules")}
        columns={[
          { head: "Rule", path: "rule", as: "name" },
          { head: "Verdict", path: "verdict", as: "text" },
          { head: "Unverified firings", path: "unverifiedFirings", as: "count" },
          { head: "Of them after the diary", path: "afterDiary", as: "count" },
          { head: "Fewest answers that change the verdict", path: "settledBy", as: "count", look: "words", none: "none can" },
          { head: "In words", path: "why", as: "text", look: "prose" },
        ]}
      />
    </>
  );
}
