import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { Proposal, RuleProposals } from "../../result/proposals.js";
import { countOf } from "../format.js";
import { rowsAt, type Traced, tracedAt, type TracedRow, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Folded } from "./folded.js";
import { LocalTime } from "./local-time.js";

/** What was looked for in the place of one rule; null where nothing was. */
export function proposalsFor(findings: Findings, rule: string): Traced<RuleProposals> | null {
  return rowsAt(whole(findings), "proposals").find(({ of }) => of.rule === rule) ?? null;
}

/** Other rules that did better than this one: text to paste, and figures of the part of the history that had no say. */
export function Proposals({ of, id }: { of: Traced<RuleProposals>; id: string }): JSX.Element {
  const proposals = rowsAt(of, "proposals");
  if (proposals.length === 0) return <p class="rests">{of.of.why}</p>;
  const rows: TracedRow<Pick<Proposal, "heldOut">, RuleProposals>[] = [{ ...tracedAt(of, "present"), above: of }, ...proposals];
  return (
    <Folded summary={`${countOf(proposals.length, "better rule was", "better rules were")} found: text to paste into the site file`}>
      <p>
        {of.of.why} The rest begins at <LocalTime at={of.of.splitAt} />. “Looks wrong” is what all sensors together say where the diary is
        silent.
      </p>
      <DataTable
        id={`${id}-proposals`}
        stacks
        caption={<>On the rest of the history, which had no part in choosing: the present rule first, then those proposed, in order</>}
        rows={rows}
        columns={[
          { head: "Wrong", path: "heldOut.wrong", as: "count" },
          { head: "looks wrong", path: "heldOut.looksWrong", as: "count" },
          { head: "nobody can tell", path: "heldOut.unclear", as: "count" },
          { head: "Late", path: "heldOut.late", as: "count" },
          { head: "missed", path: "heldOut.missed", as: "count" },
          { head: "Share missed or late", path: "heldOut.missedShare", as: "figure" },
          { head: "Median delay", path: "heldOut.delay", as: "figure" },
        ]}
      />
      {proposals.map((one) => (
        <One proposal={one} id={`${id}-proposal-${one.index + 1}`} />
      ))}
    </Folded>
  );
}

function One({ proposal, id }: { proposal: Traced<Proposal>; id: string }): JSX.Element {
  const { why, yaml, gap, rightWhenNote, groups } = proposal.of;
  return (
    <>
      <p>
        {why} At least {groups} independent reports must be false at once to make it act.
      </p>
      <pre>
        <code>{yaml}</code>
      </pre>
      <p class="rests">
        {gap}
        {rightWhenNote === null ? null : ` ${rightWhenNote}`}
      </p>
      <DataTable
        id={id}
        stacks
        caption={<>The worst moments of the present rule, and what this one would have done</>}
        rows={rowsAt(proposal, "moments")}
        columns={[
          { head: "Moment", path: "at", as: "time" },
          { head: "Present rule", path: "was", as: "text" },
          { head: "This one", path: "becomes", as: "text" },
        ]}
      />
    </>
  );
}
