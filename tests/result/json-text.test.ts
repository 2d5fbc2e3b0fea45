import fc from "fast-check";
import { expect, test } from "vitest";
import { z } from "zod";
import { jsonText } from "../../src/result/json-text.js";

const schema = z.strictObject({ days: z.array(z.number().nullable()), says: z.array(z.string()), runs: z.array(z.array(z.number())) });

test("lists of numbers stand on one line, all else on lines of its own", () => {
  expect(jsonText(schema, { days: [1, null, -2.5e-7], says: ["[\n 1\n]", "2"], runs: [[1], []] })).toBe(
    '{\n "days": [1, null, -2.5e-7],\n "says": [\n  "[\\n 1\\n]",\n  "2"\n ],\n "runs": [\n  [1],\n  []\n ]\n}\n',
  );
});

test("whatever is written is read back the same", () => {
  const values = fc.record({ days: fc.array(fc.option(fc.double({ noDefaultInfinity: true, noNaN: true }).filter((one) => !Object.is(one, -0)))), says: fc.array(fc.string({ unit: "binary" })), runs: fc.array(fc.array(fc.integer())) });
  fc.assert(fc.property(values, (value) => {
    expect(JSON.parse(jsonText(schema, value))).toEqual(value);
  }));
});
