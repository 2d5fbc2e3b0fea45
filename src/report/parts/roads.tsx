import { capitalised } from "../../ground/first-letter.js";
import type { JSX } from "preact";
import type { RuleFinding } from "../../result/rules.js";
import type { Drawing } from "../charts/drawing.js";
import { claimsOf, type Road, roadKeys, roadNames, roadsAhead, whyNoClaim } from "../roads.js";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { type Column, DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";
import { TruthfulGap } from "./truthful-gap.js";
import { TwoEvents } from "./two-events.js";
import { TwoRoads } from "./two-roads.js";

/** Whether there is anything to say of either road. */
export function hasRoads(rule: RuleFinding): boolean {
  return claimsOf(rule).length > 0 || rule.design !== null || rule.gap !== null || rule.twoEvents.length > 0;
}

/** What limit a rule can be held to, on which road, and what stands in the way. */
export function Roads({ rule, drawing }: { rule: Traced<RuleFinding>; drawing: Drawing | null }): JSX.Element {
  return (
    <>
      <p>
        There are two ways to show that a rule seldom acts wrongly. Counting: how often it did, over the time in which somebody could tell.
        By design: how often two independent parts of it must report falsely at the same time. One of them within your limit is enough.
      </p>
      <Claims rule={rule} drawing={drawing} />
      <TwoRoads rule={rule} />
      <TruthfulGap rule={rule} />
      <TwoEvents rule={rule} />
    </>
  );
}

/** The smallest limit each road supports now and later, as a picture and as numbers. */
function Claims({ rule, drawing }: { rule: Traced<RuleFinding>; drawing: Drawing | null }): JSX.Element | null {
  const claims = claimsOf(rule.of);
  if (claims.length === 0) return null;
  const { cumulated, wrongPerYear } = rule.of;
  const roads = roadsAhead(claims, wrongPerYear.limit);
  const whyNot = (["counting", "design"] as const).flatMap((road) => whyNoClaim(rule.of, road) ?? []);
  const id = `rule-${rule.index + 1}-claims`;
  const above = cumulated === null ? rule : tracedAt(rule, "cumulated");
  const rows = above === null ? [] : rowsAt(above as Traced<{ claims: RuleFinding["claims"] }>, "claims");
  const [now] = rows;
  return (
    <>
      {now === undefined || (now.of.byCounting === null && now.of.byDesign === null) ? null : (
        <p>
          Today you can claim:{" "}
          {roads
            .filter((road) => now.of[roadKeys[road]] !== null)
            .map((road, index) => (
              <>
                {index > 0 ? ", " : ""}
                {roadNames[road]} at most <Datum at={now} path={roadKeys[road]} as="at most" /> wrong a year
              </>
            ))}
          {wrongPerYear.limit === null ? "; the site file sets no limit." : (
            <>
              ; your limit is {wrongPerYear.limitInWords === undefined ? "" : `${wrongPerYear.limitInWords}: `}<Datum at={rule} path="wrongPerYear.limit" as="amount" />.
            </>
          )}
        </p>
      )}
      <Picture id={id} drawing={drawing} below={<ClaimsTable id={`${id}-table`} rows={rows} roads={roads} name={rule.of.name} />}>
        The limit that each way can show, in wrong firings a year: today, and after more months that go like those seen. {roadLooks(roads)}
        {wrongPerYear.limit === null ? "" : " Dotted line: your limit. A way shows it where its line lies below."}
      </Picture>
      {whyNot.map((sentence) => (
        <p>{sentence}</p>
      ))}
    </>
  );
}

function roadLooks(roads: readonly Road[]): string {
  const looks: Readonly<Record<Road, string>> = {
    counting: "by counting: dashed line, squares",
    design: "by design: full line, discs",
  };
  const text = roads.map((road) => looks[road]).join("; ");
  return `${capitalised(text)}.`;
}

type ClaimRow = ReturnType<typeof rowsAt<{ claims: RuleFinding["claims"] }, "claims">>[number];

function ClaimsTable({ id, rows, roads, name }: { id: string; rows: readonly ClaimRow[]; roads: readonly Road[]; name: string }): JSX.Element {
  const columns: Column<ClaimRow>[] = [
    { head: "When", look: "words", path: "moreMonths", as: "months from now" },
    ...roads.map((road): Column<ClaimRow> => ({ head: `At most wrong a year, ${roadNames[road]}`, path: roadKeys[road], as: "at most", none: "nothing" })),
  ];
  return (
    <Folded summary="The numbers of this picture">
      <DataTable
        id={id}
        caption={
          <>
            What can be claimed of “<Name of={name} />”
          </>
        }
        rows={rows}
        columns={columns}
      />
    </Folded>
  );
}
