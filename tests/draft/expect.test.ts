import { describe, expect, it } from "vitest";
import { findExpect } from "../../src/draft/expect.js";

const heard = (times: readonly number[], stretches: readonly number[] = times.map(() => 0)) => ({ times: Float64Array.from(times), texts: times.map(() => "1"), stretches: Int32Array.from(stretches) });
const MINUTE = 60_000;

describe("the interval at which a signal reports", () => {
  it("is that of its regular readings, whatever comes between and is left out", () => {
    const times = Array.from({ length: 200 }, (_, i) => i * 3 * MINUTE + (i % 5) * 500).filter((_, i) => i % 40 !== 39);
    const withEvents = [...times, 1_000_000, 1_003_000, 9_000_000].sort((a, b) => a - b);
    expect(findExpect(heard(withEvents))?.ms).toBe(3 * MINUTE);
  });
  it("is null where only changes are reported", () => {
    const times: number[] = [];
    for (let i = 0, at = 0; i < 200; i++, at += (1 + ((i * i * 37) % 101) ** 2) * 5_000) times.push(at);
    expect(findExpect(heard(times))).toBeNull();
  });
  it("is not hidden by one stamp of a clock that was not set", () => {
    const times = Array.from({ length: 200 }, (_, i) => Date.UTC(2026, 5, 1) + i * 3 * MINUTE);
    expect(findExpect(heard([0, ...times]))).toEqual({ ms: 3 * MINUTE, share: 1 });
  });
  it("needs some twenty gaps", () => {
    expect(findExpect(heard([0, 1, 2, 3].map((i) => i * MINUTE)))).toBeNull();
  });
  it("does not count the time between the parts of a large file", () => {
    const part = (from: number) => Array.from({ length: 30 }, (_, i) => from + i * MINUTE);
    const times = [...part(0), ...part(1e9), ...part(2e9)];
    expect(findExpect(heard(times, times.map((_, i) => Math.floor(i / 30))))).toEqual({ ms: MINUTE, share: 1 });
  });
});
