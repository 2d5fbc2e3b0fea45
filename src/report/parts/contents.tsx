import type { JSX } from "preact";

/** The parts of the report, in their order: id and heading. */
export const partHeadings = {
  caution: "Before you act on this",
  short: "In short",
  verdicts: "Verdicts",
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

/** Links to the parts. */
export function Contents({ without }: { without: readonly (keyof typeof partHeadings)[] }): JSX.Element {
  return (
    <nav aria-label="Contents">
      <ol>
        {Object.entries(partHeadings)
          .filter(([id]) => !without.some((left) => left === id))
          .map(([id, heading]) => (
          <li>
            <a href={`#${id}`}>{heading}</a>
          </li>
        ))}
      </ol>
    </nav>
  );
}
