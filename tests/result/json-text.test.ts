import { expect, it } from "vitest";
import { z } from "zod";
import { decoded, jsonText } from "../../src/result/json-text.js";
import { instant } from "../../src/result/values.js";

const visit = z.strictObject({ at: instant, who: z.array(z.strictObject({ name: z.string() })) });
const visited = { at: Date.UTC(2026, 9, 9, 13, 12, 40), who: [{ name: "mira" }] };

it("writes instants as text and reads them as milliseconds", () => {
  const text = jsonText(visit, visited);
  expect(text).toContain('"at": "2026-10-09T13:12:40.000Z"');
  expect(decoded(visit, JSON.parse(text)).data).toEqual(visited);
});

it("passes over keys of a newer version, wherever they stand, and changes nothing in what it was given", () => {
  const newer = { at: "2026-10-09T13:12:40.000Z", who: [{ name: "mira", shoes: 38 }], weather: "rain" };
  const before = structuredClone(newer);
  expect(decoded(visit, newer).data).toEqual(visited);
  expect(newer).toEqual(before);
});

it("refuses what does not fit, beside an unknown key too", () => {
  expect(decoded(visit, { at: "yesterday", who: [], weather: "rain" }).error?.issues.map(({ path }) => path.join("."))).toEqual(["at"]);
});

it("writes nothing that its own reader would not understand", () => {
  const wider = { ...visited, weather: "rain" };
  expect(() => jsonText(visit, wider)).toThrow(z.ZodError);
});
