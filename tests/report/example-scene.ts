import type { Scene } from "../../src/result/decision.js";

const at = (time: string): number => Date.parse(`2026-10-15T${time}.000Z`);

/** A night at which a phone dropped out while its owner slept, and came back. */
export const exampleScene: Scene = {
  sort: "wrong",
  at: at("02:40:26"),
  firing: "unlock on arrival #3",
  from: at("02:07:28"),
  to: at("02:45:55"),
  title: "unlocks, and nobody came",
  text: "phone-mira had dropped out: it said away from 03:12:58 to 03:40:26 while mira was here all the time, and its return looked like a change.",
  lanes: [
    { label: "mira", role: "truth", on: "here", steps: [[at("02:07:28"), "on"]] },
    { label: "yard-door-rail", role: "sensor", on: "open", steps: [[at("02:07:28"), "unknown"], [at("02:20:00"), "off"]] },
    { label: "phone-mira", role: "culprit", on: "here", steps: [[at("02:07:28"), "on"], [at("02:12:58"), "off"], [at("02:40:26"), "on"]] },
    { label: "the rule", role: "rule", on: "unlocked", steps: [[at("02:07:28"), "off"], [at("02:40:26"), "on"]] },
  ],
  cause: { lane: 2, from: at("02:12:58"), to: at("02:40:26"), text: "drops out for 27 min" },
  effect: "unlocks",
};
