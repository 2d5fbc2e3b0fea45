import { classHint, tokensOf } from "./names.js";
import type { FoundSignal } from "./found.js";
import { noticesMovement } from "./stirs.js";

/** Names of what opens and shuts, or goes on and off, and lets nobody in or out (common practice, no source). */
const noWayIn = [
  "window", "windows", "blind", "blinds", "curtain", "fridge", "freezer", "cupboard", "drawer", "mailbox", "letterbox", "dishwasher",
  "washer", "dryer", "oven", "light", "lights", "lamp", "socket", "plug", "switch", "fan", "heater", "heating", "boiler", "pump", "valve",
  "kettle", "tv", "radio", "toilet", "flush", "tap", "shower", "leak", "smoke", "alarm", "fenster", "licht", "lampe", "kühlschrank", "steckdose",
  "heizung", "fenêtre", "lumière", "ventana", "luz", "temperature", "humidity", "power", "energy", "battery",
];

/** Names by which distances go, besides those of bays. */
const measuring = [
  "distance", "dist", "range", "ranger", "meter", "sonar", "ultrasonic", "ultrasound", "tof", "lidar", "radar", "echo", "abstand", "entfernung",
  "distanz", "distancia", "ceiling", "overhead", "wall", "floor", "parking", "garage",
];
const units = ["m", "cm", "mm", "ft", "feet", "in", "inch", "inches"];

/** Why a signal's own name says that it is not of a bay, a door or a person; null if it does not say so. */
export function namedOtherwise(signal: FoundSignal): string | null {
  const { called, name, source } = signal;
  const tokens = tokensOf(`${source.layout.form === "long" ? "" : source.id} ${called} ${name}`);
  if (classHint(called) === "bay" || classHint(called) === "person") return null;
  const movement = noticesMovement(signal);
  if (movement !== null) return movement === "inside" ? "it is a sensor that notices only movement, and whose it does not tell" : "it notices movement outside, where anybody may pass";
  return tokens.some((token) => noWayIn.includes(token)) ? "its name is that of something else in a house" : null;
}

/** Whether a name says that its numbers are distances, or are of a bay. */
export function namedMeter({ called, name, source }: FoundSignal): boolean {
  const tokens = tokensOf(`${source.id} ${called} ${name}`);
  const last = tokensOf(name).at(-1) ?? "";
  return classHint(`${source.id} ${called}`) === "bay" || tokens.some((token) => measuring.includes(token)) || units.includes(last);
}
