import type { WorkOrder } from "../../../result/fleet.js";
import type { Fault } from "./fault.js";

type Advice = Pick<WorkOrder, "who" | "part" | "nextStep">;

const wiring = "Leave wiring to licensed trades.";

/** Who is to go, with what, and what to do there. Our own choice of words; models come from the site file. */
export function adviceOf(fault: Fault, kindOf: (signal: string) => string | null): Advice {
  const spare = fault.model === null ? "" : `spare ${fault.model}`;
  const [first] = fault.sensors;
  const kind = first === undefined ? null : kindOf(first);
  const device = kind === "contact" ? "contact and magnet" : kind === "distance" ? "aim, lens and bracket" : kind === "phone" ? "phone and its app" : "device";
  switch (fault.mode) {
    case "export":
      return { who: "whoever sends the exports", part: "", nextStep: fault.ask ?? "Ask for the export again." };
    case "stuck":
      return { who: "technician", part: spare || (kind === "contact" ? "new contact and magnet" : ""), nextStep: `Check ${device}; move it by hand and watch whether it follows.` };
    case "dark":
      return { who: "electrician", part: spare, nextStep: `First look whether the export has it at all; then power and cable. ${wiring}` };
    case "pair differs":
      return { who: "technician", part: spare, nextStep: "Test both against a vehicle that you see, or keep a diary of the place for two weeks." };
    case "chattering":
      return { who: "technician", part: spare, nextStep: `Check ${device} for a loose hold or something in its way.` };
    case "missing turns":
      return { who: "technician", part: spare, nextStep: `Check ${device}, and its band or words in the site file.` };
    case "blind":
      return { who: "technician", part: spare, nextStep: `Check ${device}: with something in front of it, it reads as if nothing were there.` };
    case "late":
      return { who: "technician", part: spare, nextStep: "Look for a filter or a long reporting time in the device." };
    case "drifting":
      return { who: "technician", part: "bracket", nextStep: "Check the bracket; then its band in the site file." };
    case "restarting":
      return { who: "electrician", part: "power supply", nextStep: `Find out why it restarts: supply, cable, heat. ${wiring}` };
    case "clock":
      return { who: "whoever keeps the site file", part: "", nextStep: fault.ask ?? "Set the clock." };
    case "swapped":
      return { who: "whoever keeps the site file", part: "", nextStep: "Swap the two channels in the site file, if nobody swapped the cables; look at one of them first." };
    case "make":
      return { who: "whoever looks after the devices", part: "", nextStep: fault.ask ?? "Ask the maker for another firmware." };
  }
}
