import { MINUTE_MS } from "../../ground/units.js";

/**
 * A matched turn counts as agreeing while its lag stays within this, either way; beyond it is late or early.
 * A minute: half of the two minutes that an unlock is usually given, and about what settling costs a meter.
 */
export const LAG_TOLERANCE_MS = MINUTE_MS;

