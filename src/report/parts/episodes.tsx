import type { JSX } from "preact";
import type { EpisodeFinding, Findings } from "../../result/schema.js";
import { countOf } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { LeftOut, MOST_LISTED } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** Who vouches for a reference, in words. */
const basisWords: Readonly<Record<EpisodeFinding["basis"], string>> = { diary: "the diary", several: "several witnesses", one: "one witness only", none: "nobody" };

/** Arrivals and departures with each signal's part in them, and what signals reported outside all of them. */
export function Episodes({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  const { episodes, phantoms } = findings;
  const arrivals = episodes.filter((episode) => episode.kind === "arrival").length;
  return (
    <Section id="episodes" heading={partHeadings.episodes}>
      {episodes.length === 0 ? (
        <p>No arrival and no departure was found in this period.</p>
      ) : (
        <>
          <p>
            {countOf(episodes.length, "episode")} found: {countOf(arrivals, "arrival")}, {countOf(episodes.length - arrivals, "departure")}.
          </p>
          <details class="folded">
            <summary>{listTitle(episodes.length, "episode")}</summary>
            <DataTable
              id="episodes-list" stacks
              caption="Arrivals and departures, and what each signal made of them"
              columns={[words("Anchor"), words("Kind"), words("By"), words("Signals")]}
              rows={episodes.slice(0, MOST_LISTED).map((episode, index) => [
                <>
                  <LocalTime at={episode.anchor} clock={clock} />
                  <small>
                    <Name of={episode.anchorSubject} />, over <Datum of={episode} from={`episodes.${index}`} as="span" />
                  </small>
                </>,
                episode.kind,
                basisWords[episode.basis],
                <Participants of={episode} index={index} />,
              ])}
            />
            <LeftOut count={episodes.length - MOST_LISTED} file="episodes.csv" />
          </details>
        </>
      )}
      <h3>Phantoms</h3>
      <Phantoms phantoms={phantoms} clock={clock} />
    </Section>
  );
}

function listTitle(count: number, what: string): string {
  return count > MOST_LISTED ? `List of the first ${MOST_LISTED} of ${countOf(count, what)}` : `List of ${countOf(count, what)}`;
}

function Participants({ of, index }: { of: EpisodeFinding; index: number }): JSX.Element {
  if (of.participants.length === 0) return <>none</>;
  return (
    <ul class="participants">
      {of.participants.map(({ signal, outcome, lagSeconds }, at) => (
        <li>
          <Name of={signal} /> {outcome}
          {lagSeconds === null ? null : (
            <>
              , <Datum of={lagSeconds} from={`episodes.${index}.participants.${at}.lagSeconds`} as="lag" />
            </>
          )}
        </li>
      ))}
    </ul>
  );
}

function Phantoms({ phantoms, clock }: { phantoms: Findings["phantoms"]; clock: LocalClock }): JSX.Element {
  if (phantoms.length === 0) return <p>No signal reported a change outside these episodes that the others knew to be false.</p>;
  return (
    <>
      <p>{countOf(phantoms.length, "time")} a signal said what the others knew to be false, outside all arrivals and departures.</p>
      <details class="folded">
        <summary>{listTitle(phantoms.length, "phantom")}</summary>
        <DataTable
          id="phantoms-list" stacks
          caption="Phantoms"
          columns={[words("From"), words("Signal"), words("It said"), words("Until"), numbers("For")]}
          rows={phantoms.slice(0, MOST_LISTED).map((phantom, index) => [
            <LocalTime at={phantom.from} clock={clock} />,
            <>
              <Name of={phantom.signal} />
              <small>
                on <Name of={phantom.subject} />
              </small>
            </>,
            phantom.said,
            <LocalTime at={phantom.to} clock={clock} />,
            <Datum of={phantom} from={`phantoms.${index}`} as="span" />,
          ])}
        />
        <LeftOut count={phantoms.length - MOST_LISTED} file="findings.json" />
      </details>
    </>
  );
}
