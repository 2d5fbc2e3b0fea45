import { expect, it } from "vitest";
import { lengthMetres, parseLength } from "../../src/site/length.js";

it.each([
  ["150m", 150], ["150 m", 150], ["0.5km", 500], ["20cm", 0.2], ["4mm", 0.004], ["1ft", 0.3048], ["10in", 0.254], ["-2m", -2], [".5m", 0.5],
])("reads %j as %d metres", (text, metres) => expect(lengthMetres(parseLength(text)!, null)).toBeCloseTo(metres, 12));

it("counts a bare number in the unit given beside it", () => {
  expect(lengthMetres(parseLength("3.7")!, "ft")).toBeCloseTo(1.12776, 12);
  expect(lengthMetres(parseLength("3.7")!, null)).toBeNull();
});

it.each(["", "m", "1e3m", "1 mile", "1,5m", "1m2", "NaN", "Infinity"])("refuses %j", (text) => expect(parseLength(text)).toBeNull());
