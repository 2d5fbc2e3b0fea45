import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { Drawings } from "../drawings.js";
import { countOf } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { clockNotes } from "./clock-note.js";
import { Folded } from "./folded.js";
import { proposalsFor } from "./proposals.js";
import { Verdict } from "./verdict.js";

/** What must be known first, then a verdict a rule. */
export function Verdicts({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  const notes = [...findings.notes, ...clockNotes(findings)];
  return (
    <>
      {notes.length === 0 ? null : (
        <div class="notes">
          <p>Know first:</p>
          <List of={notes} />
        </div>
      )}
      <Cost findings={findings} />
      {findings.rules.length === 0 ? (
        <p>The site file has no rules, so there is no verdict. The signals below were judged all the same.</p>
      ) : null}
      {rowsAt(whole(findings), "rules").map((rule) => (
        <Verdict
          rule={rule}
          rates={drawings.rates[rule.index] ?? null}
          asked={findings.questions.rules.find((one) => one.rule === rule.of.name) ?? null}
          proposals={proposalsFor(findings, rule.of.name)}
        />
      ))}
    </>
  );
}

/**
 * What a month of each pair of an opening and a closing rule would cost the household. Pairs with a rule that must
 * not be enabled are folded.
 */
function Cost({ findings: { cost, rules } }: { findings: Findings }): JSX.Element | null {
  if (cost.length === 0) return null;
  const forbidden = new Set(rules.filter(({ verdict }) => verdict === "do not enable").map(({ name }) => name));
  const fit = cost.filter(({ opens, closes }) => !forbidden.has(opens) && (closes === null || !forbidden.has(closes)));
  const unfit = cost.filter((pair) => !fit.includes(pair));
  const linesOf = (pairs: Findings["cost"]): string[] => pairs.map(({ line }) => line);
  return (
    <div class="notes">
      <p>What a month of 30 days would cost:</p>
      {fit.length === 0 ? null : <List of={linesOf(fit)} />}
      {unfit.length === 0 ? null : (
        <Folded summary={`${countOf(unfit.length, "pair")} with a rule that is not to be enabled`}>
          <List of={linesOf(unfit)} />
        </Folded>
      )}
    </div>
  );
}

function List({ of }: { of: readonly string[] }): JSX.Element {
  return (
    <ul>
      {of.map((line) => (
        <li>{line}</li>
      ))}
    </ul>
  );
}
