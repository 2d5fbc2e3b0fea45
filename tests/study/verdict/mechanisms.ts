import { evenMechanisms } from "./even-mechanisms.js";
import type { Mechanism } from "./mechanism.js";
import { missingMechanisms } from "./missing-mechanisms.js";
import { witnessMechanisms } from "./witness-mechanisms.js";

/** Every mechanism of the study, in the order of its table. */
export const mechanisms: readonly Mechanism[] = [...evenMechanisms, ...witnessMechanisms, ...missingMechanisms];
