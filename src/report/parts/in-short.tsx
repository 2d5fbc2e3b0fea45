import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import { aloneAtTimes, decidingBound } from "../deciding-numbers.js";
import { rowsAt, type Traced, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { BoundLimit, BoundNumber } from "./deciding.js";
import { Mark } from "./mark.js";
import { Name, Names } from "./name.js";
import { sentenceAfterVerdict, verdictSense } from "./verdict.js";

/** Every rule in a line: verdict, why, the three deciding numbers. On paper it ends the first page. */
export function InShort({ findings }: { findings: Findings }): JSX.Element {
  return (
    <DataTable
      id="short-rules"
      stacks
      caption="Each rule with its verdict and the three numbers that decide it"
      rows={rowsAt(whole(findings), "rules")}
      columns={[
        {
          head: "Rule and verdict",
          cell: ({ of: { name, verdict }, index }) => (
            <>
              <a href={`#rule-${index + 1}`}>
                <Name of={name} />
              </a>{" "}
              <strong class={`effect ${verdictSense[verdict]}`}>
                <Mark sense={verdictSense[verdict]} /> {verdict}
              </strong>
            </>
          ),
        },
        { head: "Why", look: "prose", cell: ({ of }) => sentenceAfterVerdict(of) },
        { head: "Wrong firings a year", look: "number", cell: (rule) => <Bound rule={rule} about="wrong" /> },
        { head: "Missed or late", look: "number", cell: (rule) => <Bound rule={rule} about="missed" /> },
        { head: "Enough alone, by lying", look: "number", cell: (rule) => <EnoughAlone rule={rule} /> },
      ]}
    />
  );
}

function Bound({ rule, about }: { rule: Traced<RuleFinding>; about: "wrong" | "missed" }): JSX.Element {
  return (
    <>
      at {decidingBound(rule, about).bound} <BoundNumber rule={rule} about={about} />{" "}
      <small>
        <BoundLimit rule={rule} about={about} />
      </small>
    </>
  );
}

function EnoughAlone({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const { act } = rule.of;
  const atTimes = aloneAtTimes(rule.of);
  return (
    <>
      <b>
        <Datum at={rule} path="singlePoints" as="members" />
      </b>{" "}
      <small>
        {atTimes.length === 0 ? (
          act === "unlock" || act === "disarm" ? "one is too many" : "does not decide"
        ) : (
          <>
            at times: <Names of={atTimes} />
          </>
        )}
      </small>
    </>
  );
}
