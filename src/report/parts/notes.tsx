import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { clockNotes } from "./clock-note.js";

/** What a reader must know that belongs to no single figure. */
export function Notes({ findings }: { findings: Findings }): JSX.Element {
  return (
    <ul>
      {[...findings.notes, ...clockNotes(findings)].map((note) => (
        <li>{note}</li>
      ))}
    </ul>
  );
}
