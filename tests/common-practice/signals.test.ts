/**
 * How such meters behave where they are used. Common practice, no source: the values are for tests only.
 */
import { describe, expect, test } from "vitest";
import type { SignalAccount } from "../../src/truth/signals/account.js";
import { signalAccounts } from "../../src/truth/signals/accounts.js";
import type { SignalSpec } from "../../src/site/site.js";
import { durations } from "../../src/timeline/durations.js";
import { HOUR, MINUTE, every, feet, meter, readingsMap, siteOf } from "../truth/signals/small-site.js";

const EXPECT = 3 * MINUTE;
const inches = (value: number): number => feet(value / 12);

/** Two hours of one meter, read every three minutes in turn from the list of readings (metres), round and round. */
function watched(spec: SignalSpec, metres: readonly number[]): SignalAccount {
  const rows = every(EXPECT, 0, 2 * HOUR, 0).map(([at], i) => [at, metres[i % metres.length]!] as const);
  return signalAccounts(siteOf([spec]), readingsMap({ [spec.id]: rows }), { from: 0, to: 2 * HOUR }).get(spec.id)!;
}

const alwaysOn = { offMs: 0, onMs: 2 * HOUR, unknownMs: 0 };

describe("overhead meters above a parked vehicle (common practice, no source)", () => {
  test("that read 4.2 ft and 4.3 ft are present in a band of 3.7 to 4.7 ft", () => {
    const overhead = meter("overhead", { near: 3.7, far: 4.7 }, { expectMs: EXPECT });
    for (const reading of [4.2, 4.3]) expect(durations(watched(overhead, [feet(reading)]).account), `${reading} ft`).toEqual(alwaysOn);
  });

  // The roof and the raised hatch in turn: the hatch comes 3 to 4 inches nearer to the meter.
  const hatch = [3, 3.5, 4].map((nearer) => [feet(4.2), feet(4.2) - inches(nearer)]);

  test("do not lose it when its roof hatch opens, where the band allows for the 3 to 4 inches", () => {
    const wide = meter("overhead", { near: 3.7, far: 4.7 }, { expectMs: EXPECT });
    const slack = meter("overhead", { near: 4.1, far: 4.7, slack: 0.3 }, { expectMs: EXPECT });
    for (const readings of hatch) {
      expect(durations(watched(wide, readings).account)).toEqual(alwaysOn);
      expect(durations(watched(slack, readings).account)).toEqual(alwaysOn);
    }
  });

  test("lose it each time its roof hatch opens, where the band does not allow for it", () => {
    const tight = meter("overhead", { near: 4.1, far: 4.7, slack: 0.1 }, { expectMs: EXPECT });
    for (const readings of hatch) expect(durations(watched(tight, readings).account)).toEqual({ offMs: HOUR, onMs: HOUR, unknownMs: 0 });
  });
});

describe("a wall meter (common practice, no source)", () => {
  test("that reads its maximum of about 118 inches has no vehicle before it, whatever the band", () => {
    for (const far of [60, 118, 130]) {
      const wall = meter("wall", { near: 1, far: far / 12, slack: 0.5, maximum: 118 / 12 }, { expectMs: EXPECT });
      // It is the first reading that is occupied, so that slack cannot be what is missing.
      const account = watched(wall, [inches(24), ...Array.from({ length: 39 }, () => inches(118))]).account;
      expect(durations(account), `band up to ${far} in`).toEqual({ offMs: 2 * HOUR - EXPECT, onMs: EXPECT, unknownMs: 0 });
    }
  });
});

describe("a source that publishes every three minutes (common practice, no source)", () => {
  const overhead = meter("overhead", { near: 3.7, far: 4.7 }, { expectMs: EXPECT });

  test("is not silent for it, nor for one or two readings in five that got lost", () => {
    expect(watched(overhead, [feet(4.2)]).silences).toEqual([]);
    const thinned = every(EXPECT, 0, 2 * HOUR, feet(4.2)).filter((_, i) => i % 5 !== 3);
    const one = signalAccounts(siteOf([overhead]), readingsMap({ overhead: thinned }), { from: 0, to: 2 * HOUR }).get("overhead")!;
    expect(one.silences).toEqual([]);
    expect(durations(one.account)).toEqual(alwaysOn);
  });
});
