import { IANAZone, type Zone } from "luxon";
import { remembered } from "./remembered.js";
import { MINUTE_MS } from "./units.js";

const QUARTER_MS = 15 * MINUTE_MS;
/** Since then every zone's clocks were set to whole quarters of an hour from UTC, and changed on one. */
const SINCE_MS = Date.UTC(1972, 1, 1);

/** An IANA zone that asks for its offset once a quarter of an hour: the formatter behind it takes longer than all else that is done with a time. */
class RememberingZone extends IANAZone {
  readonly #offsets = new Map<number, number>();

  override offset(instant: number): number {
    if (!(instant >= SINCE_MS)) return super.offset(instant);
    const quarter = Math.floor(instant / QUARTER_MS);
    const known = this.#offsets.get(quarter);
    if (known !== undefined) return known;
    const minutes = super.offset(instant);
    this.#offsets.set(quarter, minutes);
    return minutes;
  }
}

/** The zone of an IANA name for luxon, which remembers its offsets; an unknown name gives an invalid zone. */
export const zoneOf: (name: string) => Zone = remembered((name) => new RememberingZone(name));
