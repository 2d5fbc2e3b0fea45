import type { JSX } from "preact";
import type { FailureMode } from "../../result/fleet.js";

/** Upper line: what happened. Lower: what the sensor said. Bent, broken or crossed by how it fails; the word beside it says the same. */
export function ModeMark({ mode }: { mode: FailureMode }): JSX.Element {
  return (
    <svg class={`mode-mark ${mode === "export" ? "torn" : ""}`} width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
      {mode === "export" ? null : <path d="M2 7H9V3H20V7H28" />}
      <path class="lower" d={lower[mode]} {...(mode === "restarting" ? { "stroke-dasharray": "5 3" } : {})} />
    </svg>
  );
}

const lower: Readonly<Record<FailureMode, string>> = {
  stuck: "M2 15H28",
  dark: "M2 15H10M17 11.500L23 17.500M23 11.500L17 17.500",
  "pair differs": "M2 12H9V16H20V12H28",
  chattering: "M2 16H5V12H8V16H11V12H14V16H17V12H20V16H23V12H26V16H28",
  "missing turns": "M2 16H9V12H12M18 12H20V16H28",
  blind: "M2 16H9V12H12M18 16H28",
  late: "M2 16H14V12H25V16H28",
  drifting: "M2 17L28 11",
  restarting: "M2 15H28",
  clock: "M2 16H14V12H25V16H28M14 9L17 12L14 15",
  swapped: "M2 16L28 11M2 11L28 16",
  export: "M7 3H23V17L19 14L15 17L11 14L7 17Z",
  make: "M2 13H28M2 17H28",
};

/** How each way of failing reads on the page. */
export const modeWords: Readonly<Record<FailureMode, string>> = {
  stuck: "stuck", dark: "dark", "pair differs": "its sensors disagree", chattering: "chattering", "missing turns": "misses changes", blind: "blind", late: "late",
  drifting: "drifting", restarting: "restarting", clock: "clock is off", swapped: "channels swapped", export: "falls short", make: "worse than its fellows",
};
