import { beforeAll, describe, expect, it } from "vitest";
import type { Findings } from "../../src/result/schema.js";
import { binomialCdf } from "../../src/statistics/distributions.js";
import { agreementShare } from "./agreement-share.js";
import type { Planted } from "../../src/simulate/planted.js";
import { auditedYear } from "./year.js";

/**
 * Invented truth: a simulated year with known rates. An interval at 95 % misses one time in twenty, so what is held
 * against the audit is the number of intervals that hold the planted value, and how likely so few would be.
 */
let findings: Findings;
let planted: Planted;
beforeAll(async () => {
  ({ findings, planted } = await auditedYear());
});

interface Check {
  readonly what: string;
  readonly planted: number;
  readonly low: number;
  readonly high: number;
}

function holding(checks: readonly Check[]): number {
  const held = checks.filter((one) => one.low <= one.planted && one.planted <= one.high);
  const outside = checks.filter((one) => !held.includes(one)).map((one) => `${one.what}: planted ${one.planted.toFixed(4)} outside ${one.low.toFixed(4)}–${one.high.toFixed(4)}`);
  process.stdout.write(`planted values inside their 95 % intervals: ${held.length} of ${checks.length}${outside.map((line) => `\n  ${line}`).join("")}\n`);
  return held.length;
}

/** So few (or fewer) of n independent 95 % intervals holding would happen less than once in a thousand. */
function tooFew(held: number, count: number): boolean {
  return binomialCdf(held, count, 0.95) < 0.001;
}

describe("a simulated year with planted faults", () => {
  it("holds the planted miss shares within their intervals", () => {
    const checks = findings.signals
      .filter(({ kind }) => kind === "distance")
      .map(({ signal, missedShare }): Check => ({ what: signal, planted: planted.signals.get(signal)!.rates.miss, low: missedShare.low!, high: missedShare.high! }));
    expect(checks).toHaveLength(6);
    expect(tooFew(holding(checks), checks.length)).toBe(false);
  });

  it("counts every visit that a meter did miss, and hardly any other", () => {
    for (const { signal, missedShare } of findings.signals.filter(({ kind }) => kind === "distance")) {
      const { missedOn, trueOn } = planted.signals.get(signal)!;
      const counted = Math.round(missedShare.value! * missedShare.count);
      // Visits next to a restart or at the edge of the year are not judged, so a few may be left out.
      expect(counted, signal).toBeLessThanOrEqual(missedOn.length);
      expect(counted, signal).toBeGreaterThanOrEqual(missedOn.length - 2);
      expect(missedShare.count, signal).toBeGreaterThanOrEqual(trueOn - 2);
    }
  });

  it("holds the planted phantom rates within their intervals", () => {
    const checks = findings.signals
      .filter(({ kind }) => kind === "distance")
      .map(({ signal, phantomRate }): Check => {
        const truth = planted.signals.get(signal)!;
        // Phantoms can only begin while the bay is empty; the audit counts them over all the time it looked.
        const couldHappen = truth.phantomOnExposureMs / (planted.exports.to - planted.exports.from);
        return { what: signal, planted: truth.rates.phantom!.per_30_days * couldHappen, low: phantomRate.low!, high: phantomRate.high! };
      });
    expect(checks).toHaveLength(6);
    expect(tooFew(holding(checks), checks.length)).toBe(false);
  });

  it("holds the true agreement of every signal within its interval", () => {
    const checks = findings.signals.map(({ signal, subject, agreement }): Check => ({
      what: signal,
      planted: agreementShare(planted.signals.get(signal)!.said, planted.truth.get(subject)!, planted.period),
      low: agreement.low!,
      high: agreement.high!,
    }));
    expect(checks).toHaveLength(9);
    expect(holding(checks)).toBe(9);
  });

  it("finds every planted wrong unlock, and no other", () => {
    // A phone that left by mistake and came back in the night: the careless rule unlocks at that instant.
    const wrongAt = ["phone-ada", "phone-ben"].flatMap((signal) => planted.signals.get(signal)!.phantomsOff.map(({ to }) => to)).filter((at) => at > planted.period.from && at < planted.period.to);
    const found = findings.rules[0]!.firingList.filter(({ outcome }) => outcome === "wrong").map(({ at }) => at);
    const unfound = wrongAt.filter((at) => !found.some((firing) => Math.abs(firing - at) <= 60_000));
    process.stdout.write(`planted wrong unlocks found: ${wrongAt.length - unfound.length} of ${wrongAt.length}; wrong firings in all: ${found.length}\n`);
    expect(wrongAt.length).toBeGreaterThan(20);
    expect(unfound).toEqual([]);
    expect(found.filter((firing) => !wrongAt.some((at) => Math.abs(firing - at) <= 60_000))).toEqual([]);
    expect(findings.rules[0]!.verdict).toBe("do not enable");
  });
});
