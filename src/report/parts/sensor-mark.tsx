import type { JSX } from "preact";
import type { SensorFinding } from "../../result/sensors.js";

/** Twin lines: level where a sensor is fine, the lower one bent where it strays, broken and crossed where it is to be mended. The word beside it says the same. */
export function SensorMark({ state }: { state: SensorFinding["state"] }): JSX.Element {
  return (
    <svg class={`twin-mark ${state}`} width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
      <path d="M2 7H28" />
      <path class="lower" d={lower[state]} />
    </svg>
  );
}

const lower: Readonly<Record<SensorFinding["state"], string>> = {
  fine: "M2 13H28",
  look: "M2 13H10L14 16.5H18L22 13H28",
  mend: "M2 13H9M21 13H28M12 10.5L18 16.5M18 10.5L12 16.5",
};
