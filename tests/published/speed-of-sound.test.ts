/**
 * Speed of sound in dry air, in the form of ISO 9613-1: c = 343.2 √(T / 293.15).
 * The formula is (M), from memory, standard not seen; the values are (R), recomputed.
 */
import { expect, test } from "vitest";
import { readingPerMetre, speedOfSoundMetresPerSecond } from "../../src/truth/bands/speed-of-sound.js";

test.each([
  [-20, 318.927], [-10, 325.165], [0, 331.286], [10, 337.296], [15, 340.261], [20, 343.2], [25, 346.115], [30, 349.005],
])("at %f °C: %f m/s (R)", (celsius, speed) => {
  // At 25 °C it is 346.11445, which was rounded twice: all agree within a millimetre a second.
  expect(Math.abs(speedOfSoundMetresPerSecond(celsius) - speed)).toBeLessThan(0.001);
});

test("two other forms in use differ by at most 0.14 % from −20 to 30 °C (R)", () => {
  for (let celsius = -20; celsius <= 30; celsius += 1) {
    const ours = speedOfSoundMetresPerSecond(celsius);
    expect(Math.abs(331.3 * Math.sqrt(1 + celsius / 273.15) - ours) / ours).toBeLessThan(0.0014);
    expect(Math.abs(331.3 + 0.606 * celsius - ours) / ours).toBeLessThan(0.0014);
  }
});

test("a meter that assumes 20 °C reads about 0.17 % wrong per degree, too long in the cold", () => {
  expect((readingPerMetre(19, 20) - 1) * 100).toBeCloseTo(0.17, 2);
  expect((readingPerMetre(21, 20) - 1) * 100).toBeCloseTo(-0.17, 2);
});

test("nothing is colder than absolute zero", () => {
  expect(() => speedOfSoundMetresPerSecond(-274)).toThrow("A temperature is at least -273.15 °C, not -274.");
});
