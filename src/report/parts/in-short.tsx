import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { BoundLimit, BoundNumber } from "./deciding.js";
import { aloneAtTimes, decidingBound } from "../deciding-numbers.js";
import { Mark } from "./mark.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";
import { sentenceAfterVerdict } from "./verdict-sentence.js";
import { verdictSense } from "./verdict.js";

/** Every rule in a line: verdict, why, the three deciding numbers. On paper it ends the first page. */
export function InShort({ findings }: { findings: Findings }): JSX.Element | null {
  const { rules } = findings;
  if (rules.length === 0) return null;
  return (
    <Section id="short" heading={partHeadings.short} ends>
      <DataTable
        id="short-rules"
        stacks
        caption="Each rule with its verdict and the three numbers that decide it"
        columns={[words("Rule and verdict"), prose("Why"), numbers("Wrong firings a year"), numbers("Missed or late"), numbers("Enough alone, by lying")]}
        rows={rules.map((rule, index) => {
          const path = `rules.${index}`;
          const sense = verdictSense[rule.verdict];
          const atTimes = aloneAtTimes(rule);
          return [
            <>
              <a href={`#rule-${index + 1}`}>
                <Name of={rule.name} />
              </a>{" "}
              <strong class={`effect ${sense}`}>
                <Mark sense={sense} /> {rule.verdict}
              </strong>
            </>,
            sentenceAfterVerdict(rule),
            ...(["wrong", "missed"] as const).map((about) => (
              <>
                at {decidingBound(rule, about).bound} <BoundNumber rule={rule} path={path} about={about} />{" "}
                <small>
                  <BoundLimit rule={rule} path={path} about={about} />
                </small>
              </>
            )),
            <>
              <b>
                <Datum of={rule.singlePoints} from={`${path}.singlePoints`} as="members" />
              </b>{" "}
              <small>
                {atTimes.length === 0 ? (
                  rule.act === "unlock" || rule.act === "disarm" ? "one is too many" : "does not decide"
                ) : (
                  <>
                    at times: <Names of={atTimes} />
                  </>
                )}
              </small>
            </>,
          ];
        })}
      />
    </Section>
  );
}
