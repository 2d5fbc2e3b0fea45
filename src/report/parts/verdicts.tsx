import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawings } from "../drawings.js";
import { partHeadings } from "./contents.js";
import { Cost } from "./cost.js";
import { Section } from "./section.js";
import { Verdict } from "./verdict.js";

/** What must be known first, then a verdict a rule. */
export function Verdicts({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  return (
    <Section id="verdicts" heading={partHeadings.verdicts}>
      {findings.notes.length === 0 ? null : (
        <div class="notes">
          <p>Know first:</p>
          <ul>
            {findings.notes.map((note) => (
              <li>{note}</li>
            ))}
          </ul>
        </div>
      )}
      <Cost findings={findings} />
      {findings.rules.length === 0 ? <p>The site file has no rules, so there is no verdict. The signals below were judged all the same.</p> : null}
      {findings.rules.map((rule, index) => (
        <Verdict rule={rule} index={index} rates={drawings.rates[index]!} />
      ))}
    </Section>
  );
}
