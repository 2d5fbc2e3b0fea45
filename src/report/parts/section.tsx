import type { ComponentChildren, JSX } from "preact";

/** The parts that a report can have, in their order: id and heading. */
export const partHeadings = {
  caution: "Before you act on this",
  short: "In short",
  verdicts: "Verdicts",
  mend: "Mend first",
  roads: "What you can claim today",
  wrong: "What would have gone wrong",
  wanted: "Late or missed",
  close: "How close it came",
  confirm: "Worth checking against memory",
  signals: "Signals",
  references: "What the reference rests on",
  disagreements: "Where witnesses disagree",
  upkeep: "Clocks, bands, changes",
  months: "Earlier periods",
  bays: "Bays compared",
  episodes: "Arrivals, departures, phantoms",
  drills: "Drills and hostile scenes",
  tuning: "Settings tried",
  compared: "Rules compared",
  ledger: "Data ledger",
  method: "Method",
} as const;

/** The id of a part. */
export type PartId = keyof typeof partHeadings;

interface Properties {
  readonly id: string;
  readonly heading: string;
  /** On paper, what follows begins a new page. */
  readonly ends?: boolean;
  readonly children: ComponentChildren;
}

/** A part of a page under its own heading, which stands in the margin where there is room. */
export function Section({ id, heading, ends = false, children }: Properties): JSX.Element {
  return (
    <section aria-labelledby={id} class={ends ? "part ends" : "part"}>
      <h2 id={id}>{heading}</h2>
      <div class="body">{children}</div>
    </section>
  );
}

/** Links to the parts. */
export function Contents({ parts }: { parts: readonly PartId[] }): JSX.Element {
  return (
    <nav aria-label="Contents">
      <ol>
        {parts.map((id) => (
          <li>
            <a href={`#${id}`}>{partHeadings[id]}</a>
          </li>
        ))}
      </ol>
    </nav>
  );
}
