import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded, FoldedList, MOST_LISTED } from "./folded.js";
import { Mark } from "./mark.js";
import { Name, Names } from "./name.js";

/** Subjects that stand unfolded. */
const MOST_OPEN = 12;
/** Groups of signals with a shared cause that stand unfolded. */
const MOST_GROUPS_OPEN = 6;

const cut = { most: MOST_LISTED, file: "findings.json" };

/** What each reference rests on: who its witnesses are, how often each errs, and whether the data shows it at all. */
export function References({ findings }: { findings: Findings }): JSX.Element {
  const subjects = findings.references.length;
  return (
    <>
      <p>
        What most likely was so is worked out, subject by subject, from the diary and from what its witnesses said in the stretches between
        changes. How often each witness errs is learnt from the data where that can be told; where it cannot, a guess stands in its place
        and says so.
      </p>
      <Folded summary={`All ${countOf(subjects, "subject")}`} when={subjects > MOST_OPEN}>
        <RestsOn findings={findings} />
      </Folded>
      <NotWitnesses findings={findings} />
      <Folded summary="How often each witness errs">
        <Errors findings={findings} />
      </Folded>
      <Movements findings={findings} />
    </>
  );
}

function RestsOn({ findings }: { findings: Findings }): JSX.Element {
  return (
    <DataTable
      id="references-rest"
      stacks
      caption="What each reference rests on"
      rows={rowsAt(whole(findings), "references")}
      columns={[
        { head: "Subject", path: "subject", as: "name" },
        { head: "Witnesses", cell: ({ of }) => <Names of={of.witnesses.map(({ signal }) => signal)} /> },
        { head: "Stretches", path: "segments", as: "count" },
        { head: "Of them told by the diary", path: "diarySegments", as: "count" },
        { head: "Can the witnesses be told apart?", cell: ({ of }) => <ToldApart {...of} /> },
        { head: "Why", path: "why", as: "text", look: "prose" },
      ]}
      cut={cut}
    />
  );
}

function ToldApart({ identified, converged }: { identified: boolean; converged: boolean }): JSX.Element {
  return (
    <>
      {identified ? (
        "yes"
      ) : (
        <strong class="effect open">
          <Mark sense="open" /> cannot be told apart
        </strong>
      )}
      {converged ? "" : "; the model did not settle, so take its rates with care"}
    </>
  );
}

/** Signals of one subject that share a cause: how many witnesses they are worth. */
function NotWitnesses({ findings }: { findings: Findings }): JSX.Element | null {
  const groups = rowsAt(whole(findings), "references.*.causes");
  if (groups.length === 0) return null;
  const items = groups.map((group) => {
    const { signals, causes } = group.of;
    return (
      <>
        <strong>
          These {signals.length === 2 ? "two" : <Datum at={group} path="signals" as="size" />} share <Names of={causes} />: they are not{" "}
          {signals.length === 2 ? "two witnesses" : "as many witnesses"}.
        </strong>{" "}
        <Names of={signals} />: when all of them speak, each voice weighs <Datum at={group} path="weight" as="share" /> of a full one. Their
        errors are alike to <Datum at={group} path="correlation" as="share" /> (0: not at all, 1: always together), as far as{" "}
        <Datum at={group} path="errorSegments" as="amount" /> stretches with an error tell.
      </>
    );
  });
  return (
    <>
      <h3>Signals that share a cause</h3>
      <FoldedList items={items} open={MOST_GROUPS_OPEN} summary={(rest) => countOf(rest, "more group")} />
    </>
  );
}

function Errors({ findings }: { findings: Findings }): JSX.Element {
  return (
    <DataTable
      id="references-errors"
      sorts
      caption="How often each witness says what is not so, as a share of stretches; and what the model worked with"
      rows={rowsAt(whole(findings), "references.*.witnesses")}
      columns={[
        {
          head: "Witness",
          cell: ({ of, above }) => (
            <>
              <Name of={of.signal} />
              <small>
                on <Name of={above.of.subject} />
              </small>
            </>
          ),
        },
        { head: "Stretches it spoke in", path: "votes", as: "count" },
        { head: "Says on when off", path: "saysOnGivenOff", as: "figure" },
        { head: "worked with", path: "used.saysOnGivenOff", as: "share" },
        { head: "Says off when on", path: "saysOffGivenOn", as: "figure" },
        { head: "worked with", path: "used.saysOffGivenOn", as: "share" },
      ]}
      cut={cut}
    />
  );
}

function Movements({ findings }: { findings: Findings }): JSX.Element | null {
  const rows = rowsAt(whole(findings), "references.*.movements");
  if (rows.length === 0) return null;
  return (
    <Folded summary="What movements nearby say">
      <DataTable
        id="references-movements"
        stacks
        caption="How often something of another class moved nearby when the subject truly changed, and when a witness only said so"
        rows={rows}
        columns={[
          { head: "Subject", path: "^.subject", as: "name" },
          { head: "Moving nearby", path: "class", as: "text" },
          { head: "When it changed", path: "givenChange", as: "share" },
          { head: "When it did not", path: "givenNone", as: "share" },
        ]}
        cut={cut}
      />
    </Folded>
  );
}
