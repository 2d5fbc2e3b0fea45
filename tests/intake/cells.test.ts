import { describe, expect, it } from "vitest";
import { cellProblem, isValue, makeCellReader } from "../../src/intake/cells.js";
import type { ValueReading } from "../../src/site/site.js";

/** The value, or the reason why there is none. */
function read(reading: ValueReading, first: string, second = ""): number | string {
  const given = makeCellReader(reading, { missing: ["n/a"], lost: ["offline"], decimal: "." })(first, second);
  return isValue(given) ? given : cellProblem(given, first, "reading").reason;
}

const feet: ValueReading = { form: "distance", unit: "ft" };

describe("a distance", () => {
  it.each([
    ["m", 2],
    ["cm", 0.02],
    ["mm", 0.002],
    ["ft", 0.6096],
    ["in", 0.0508],
  ] as const)("in %s becomes metres", (unit, metres) => {
    expect(read({ form: "distance", unit }, "2")).toBeCloseTo(metres, 12);
  });

  it.each([
    ["0", "distance zero or negative"],
    ["-0.0", "distance zero or negative"],
    ["-3", "distance zero or negative"],
    ["wide", "value not a number"],
    ["3,2", "value not a number"],
    ["NaN", "value not a number"],
    ["Infinity", "value not a number"],
    ["0x1F", "value not a number"],
    ["", "no value"],
    ["  ", "no value"],
    ["n/a", "no value"],
    [" n/a ", "no value"],
  ])("%j is set aside: %s", (cell, reason) => {
    expect(read(feet, cell)).toBe(reason);
  });

  it("is NaN where the sensor says that it does not know", () => {
    expect(read(feet, "offline")).toBeNaN();
  });

  it("is NaN for an empty cell where the site file says that empty means lost", () => {
    expect(makeCellReader(feet, { missing: [], lost: [""], decimal: "." })("", "")).toBeNaN();
  });

  it("may stand between spaces", () => {
    expect(read({ form: "distance", unit: "m" }, " 2.5 ")).toBe(2.5);
  });
});

describe("a word", () => {
  const words: ValueReading = { form: "words", on: ["open", "1"], off: ["closed"] };
  it.each([
    ["open", 1],
    [" 1", 1],
    ["closed", 0],
    ["OPEN", "word not in the site file"],
    ["n/a", "no value"],
    ["", "no value"],
  ])("%j reads as %s", (cell, value) => {
    expect(read(words, cell)).toBe(value);
  });
});

describe("a position", () => {
  const position: ValueReading = { form: "position", homeLatitude: 51.5, homeLongitude: -0.12 };
  it("becomes metres from home", () => {
    expect(read(position, "51.5", "-0.12")).toBe(0);
    expect(read(position, "51.501", "-0.12")).toBeCloseTo(111.2, 1);
  });

  it.each([
    ["91", "0", "position out of range"],
    ["51", "-180.5", "position out of range"],
    ["0", "0", "position out of range"],
    ["51", "", "value not a number"],
    ["", "", "no value"],
    ["north", "0.1", "value not a number"],
  ])("%j, %j is set aside: %s", (latitude, longitude, reason) => {
    expect(read(position, latitude, longitude)).toBe(reason);
  });

  it("is NaN where either cell says that the phone does not know", () => {
    expect(read(position, "offline", "")).toBeNaN();
    expect(read(position, "51", "offline")).toBeNaN();
  });
});
