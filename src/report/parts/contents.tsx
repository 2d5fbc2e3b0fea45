import type { JSX } from "preact";

/** The parts of the report, in their order: id and heading. */
export const partHeadings = {
  caution: "Before you act on this",
  verdicts: "Verdicts",
  wrong: "What would have gone wrong",
  wanted: "Late or missed",
  signals: "Signals",
  bays: "Bays compared",
  episodes: "Arrivals, departures, phantoms",
  ledger: "Data ledger",
  method: "Method",
} as const;

/** Links to the parts. */
export function Contents(): JSX.Element {
  return (
    <nav aria-label="Contents">
      <ol>
        {Object.entries(partHeadings).map(([id, heading]) => (
          <li>
            <a href={`#${id}`}>{heading}</a>
          </li>
        ))}
      </ol>
    </nav>
  );
}
