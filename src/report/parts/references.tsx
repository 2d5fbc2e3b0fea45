import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_LISTED } from "./left-out.js";
import { Mark } from "./mark.js";
import { Name, Names } from "./name.js";
import { NotWitnesses } from "./not-witnesses.js";
import { Section } from "./section.js";

type Reference = Findings["references"][number];

/** So many subjects stand unfolded. */
const MOST_OPEN = 12;

/** What each reference rests on: who its witnesses are, how often each errs, and whether that can be told at all. */
export function References({ findings }: { findings: Findings }): JSX.Element {
  const { references } = findings;
  return (
    <Section id="references" heading={partHeadings.references}>
      {references.length === 0 ? (
        <p>There is nothing to work a reference out from.</p>
      ) : (
        <>
          <p>
            What most likely was so is worked out, subject by subject, from the diary and from what its witnesses said in the stretches between changes. How often each witness errs is learnt from the data
            where that can be told; where it cannot, a guess stands in its place and says so.
          </p>
          <Folded summary={`All ${countOf(references.length, "subject")}`} when={references.length > MOST_OPEN}>
            <RestsOn references={references} />
          </Folded>
          <NotWitnesses references={references} />
          <Folded summary="How often each witness errs">
            <Errors references={references} />
          </Folded>
          <Movements references={references} />
        </>
      )}
    </Section>
  );
}

function RestsOn({ references }: { references: readonly Reference[] }): JSX.Element {
  return (
    <>
      <DataTable
        id="references-rest"
        stacks
        caption="What each reference rests on"
        columns={[words("Subject"), words("Witnesses"), numbers("Stretches"), numbers("Of them told by the diary"), words("Can the witnesses be told apart?"), prose("Why")]}
        rows={references.slice(0, MOST_LISTED).map((one, index) => [
          <Name of={one.subject} />,
          <Names of={one.witnesses.map(({ signal }) => signal)} />,
          <Datum of={one.segments} from={`references.${index}.segments`} as="count" />,
          <Datum of={one.diarySegments} from={`references.${index}.diarySegments`} as="count" />,
          <Told identified={one.identified} converged={one.converged} />,
          one.why,
        ])}
      />
      <LeftOut count={references.length - MOST_LISTED} file="findings.json" />
    </>
  );
}

function Told({ identified, converged }: { identified: boolean; converged: boolean }): JSX.Element {
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

function Errors({ references }: { references: readonly Reference[] }): JSX.Element {
  const rows = references.flatMap(({ subject, witnesses }, index) => witnesses.map((witness, at) => ({ ...witness, subject, path: `references.${index}.witnesses.${at}` })));
  return (
    <>
      <DataTable
        id="references-errors"
        sorts
        caption="How often each witness says what is not so, as a share of stretches; and what the model worked with"
        columns={[words("Witness"), numbers("Stretches it spoke in"), numbers("Says on when off"), numbers("worked with"), numbers("Says off when on"), numbers("worked with")]}
        rows={rows.slice(0, MOST_LISTED).map((witness) => [
          <>
            <Name of={witness.signal} />
            <small>
              on <Name of={witness.subject} />
            </small>
          </>,
          <Datum of={witness.votes} from={`${witness.path}.votes`} as="count" />,
          <FigureText of={witness.saysOnGivenOff} from={`${witness.path}.saysOnGivenOff`} />,
          <Datum of={witness.used.saysOnGivenOff} from={`${witness.path}.used.saysOnGivenOff`} as="share" />,
          <FigureText of={witness.saysOffGivenOn} from={`${witness.path}.saysOffGivenOn`} />,
          <Datum of={witness.used.saysOffGivenOn} from={`${witness.path}.used.saysOffGivenOn`} as="share" />,
        ])}
      />
      <LeftOut count={rows.length - MOST_LISTED} file="findings.json" />
    </>
  );
}

function Movements({ references }: { references: readonly Reference[] }): JSX.Element | null {
  const rows = references.flatMap(({ subject, movements }, index) => movements.map((movement, at) => ({ ...movement, subject, path: `references.${index}.movements.${at}` })));
  if (rows.length === 0) return null;
  return (
    <Folded summary="What movements nearby say">
      <DataTable
        id="references-movements"
        stacks
        caption="How often something of another class moved nearby when the subject truly changed, and when a witness only said so"
        columns={[words("Subject"), words("Moving nearby"), numbers("When it changed"), numbers("When it did not")]}
        rows={rows.slice(0, MOST_LISTED).map((row) => [
          <Name of={row.subject} />,
          row.class,
          <Datum of={row.givenChange} from={`${row.path}.givenChange`} as="share" />,
          <Datum of={row.givenNone} from={`${row.path}.givenNone`} as="share" />,
        ])}
      />
      <LeftOut count={rows.length - MOST_LISTED} file="findings.json" />
    </Folded>
  );
}
