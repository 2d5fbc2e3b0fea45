import type { JSX } from "preact";
import type { EpisodeFinding, Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { rowsAt, type Traced, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded, MOST_LISTED } from "./folded.js";
import { Name } from "./name.js";

/** What a reference is based on, in words. */
const basisWords: Readonly<Record<EpisodeFinding["basis"], string>> = {
  diary: "the diary",
  several: "several witnesses",
  one: "one witness only",
  none: "nobody",
};

/** Arrivals and departures with each signal's part in them, and what signals reported outside all of them. */
export function Episodes({ findings }: { findings: Findings }): JSX.Element {
  const { episodes, phantoms } = findings;
  const arrivals = episodes.filter((episode) => episode.kind === "arrival").length;
  return (
    <>
      {episodes.length === 0 ? (
        <p>No arrival and no departure was found in this period.</p>
      ) : (
        <>
          <p>
            {countOf(episodes.length, "episode")} found: {countOf(arrivals, "arrival")}, {countOf(episodes.length - arrivals, "departure")}.
          </p>
          <Folded summary={listTitle(episodes.length, "episode")}>
            <DataTable
              id="episodes-list"
              stacks
              caption="Arrivals and departures, and what each signal made of them"
              rows={rowsAt(whole(findings), "episodes")}
              columns={[
                {
                  head: "Anchor",
                  cell: (episode) => (
                    <>
                      <Datum at={episode} path="anchor" as="time" />
                      <small>
                        <Name of={episode.of.anchorSubject} />, over <Datum at={episode} path="" as="span" />
                      </small>
                    </>
                  ),
                },
                { head: "Kind", path: "kind", as: "text" },
                { head: "By", cell: ({ of }) => basisWords[of.basis] },
                { head: "Signals", cell: (episode) => <Participants of={episode} /> },
              ]}
              cut={{ most: MOST_LISTED, file: "episodes.csv" }}
            />
          </Folded>
        </>
      )}
      {phantoms.length === 0 ? null : <Phantoms findings={findings} />}
    </>
  );
}

function listTitle(count: number, what: string): string {
  return count > MOST_LISTED ? `List of the first ${MOST_LISTED} of ${countOf(count, what)}` : `List of ${countOf(count, what)}`;
}

function Participants({ of }: { of: Traced<EpisodeFinding> }): JSX.Element {
  const participants = rowsAt(of, "participants");
  if (participants.length === 0) return <>none</>;
  return (
    <ul class="participants">
      {participants.map((one) => (
        <li>
          <Name of={one.of.signal} /> {one.of.outcome}
          {one.of.lagSeconds === null ? null : (
            <>
              , <Datum at={one} path="lagSeconds" as="lag" />
            </>
          )}
        </li>
      ))}
    </ul>
  );
}

function Phantoms({ findings }: { findings: Findings }): JSX.Element {
  const phantoms = rowsAt(whole(findings), "phantoms");
  return (
    <>
      <h3>Phantoms</h3>
      <p>{countOf(phantoms.length, "time")} a signal said what the others knew to be false, outside all arrivals and departures.</p>
      <Folded summary={listTitle(phantoms.length, "phantom")}>
        <DataTable
          id="phantoms-list"
          stacks
          caption="Phantoms"
          rows={phantoms}
          columns={[
            { head: "From", path: "from", as: "time" },
            {
              head: "Signal",
              cell: ({ of }) => (
                <>
                  <Name of={of.signal} />
                  <small>
                    on <Name of={of.subject} />
                  </small>
                </>
              ),
            },
            { head: "It said", path: "said", as: "text" },
            { head: "Until", path: "to", as: "time" },
            { head: "For", path: "", as: "span", look: "number" },
          ]}
          cut={{ most: MOST_LISTED, file: "findings.json" }}
        />
      </Folded>
    </>
  );
}
