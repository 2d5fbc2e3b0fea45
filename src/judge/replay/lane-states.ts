import type { TruthState } from "../../timeline/timeline.js";

/** A state in a word, as timing diagrams write it. */
export const laneStates: Readonly<Record<TruthState, "on" | "off" | "unknown">> = { 0: "off", 1: "on", 2: "unknown" };
