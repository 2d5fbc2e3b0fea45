import type { JSX } from "preact";
import { HATCH_ID } from "../charts/theme.js";

/** The hatching that stands for "unknown" in every diagram, defined once for the page. */
export function Hatch(): JSX.Element {
  return (
    <svg class="definitions" width="0" height="0" aria-hidden="true" focusable="false">
      <defs>
        <pattern id={HATCH_ID} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" stroke="var(--soft)" stroke-width="1.4" />
        </pattern>
      </defs>
    </svg>
  );
}
