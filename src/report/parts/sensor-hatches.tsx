import type { JSX } from "preact";
import { HATCH } from "../charts/hatches.js";

/** The hatchings, once a page: "nothing to check it against", and "it should have been here". */
export function SensorHatches(): JSX.Element {
  return (
    <svg class="hatches" width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id={HATCH.unchecked} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
          <line x1="0" x2="0" y1="0" y2="8" stroke="var(--hatch)" stroke-width="0.8" />
        </pattern>
        <pattern id={HATCH.expected} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="6" height="6" fill="var(--paper)" />
          <line x1="0" x2="0" y1="0" y2="6" stroke="var(--brick)" stroke-opacity="0.4" />
        </pattern>
      </defs>
    </svg>
  );
}
