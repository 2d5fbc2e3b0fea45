import { describe, expect, it } from "vitest";
import type { Counted } from "../../../src/compare/fleets/counted.js";
import { likeliestShape } from "../../../src/compare/fleets/shape.js";
import { randomStream } from "../../../src/simulate/random.js";

describe("the shape of rates that differ by nature", () => {
  it("is the one that counts were drawn with, and takes alike ones for alike", () => {
    const random = randomStream(7, "spread");
    const exponential = (): number => -Math.log(1 - random());
    const fit = (rate: () => number): number => {
      const units = Array.from({ length: 2000 }, (): Counted => {
        const mean = 10 * rate();
        let count = -1;
        for (let passed = 0; passed <= mean; count += 1) passed += exponential();
        return { count, exposure: 5 };
      });
      return likeliestShape(units, 2);
    };
    // The mean of two exponentials is gamma distributed with shape 2.
    const found = fit(() => (exponential() + exponential()) / 2);
    expect(found).toBeGreaterThan(1.6);
    expect(found).toBeLessThan(2.5);
    expect(fit(() => 1)).toBeGreaterThan(40);
  });
});
