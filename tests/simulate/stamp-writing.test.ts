import { expect, test } from "vitest";
import { stampWriter } from "../../src/simulate/stamp-writing.js";

const at = Date.parse("2026-10-25T00:30:05Z");
const hourLater = at + 3_600_000;

test("each way of writing an instant", () => {
  expect(stampWriter("epoch-s", "Europe/London")(at)).toBe("1792888205");
  expect(stampWriter("epoch-ms", "Europe/London")(at)).toBe("1792888205000");
});

test("iso tells the two passes of a repeated hour apart; a local pattern does not", () => {
  const iso = stampWriter("iso", "Europe/London");
  expect([iso(at), iso(hourLater)]).toEqual(["2026-10-25T01:30:05+01:00", "2026-10-25T01:30:05+00:00"]);
  const pattern = stampWriter("dd/MM/yyyy HH:mm:ss", "Europe/London");
  expect([pattern(at), pattern(hourLater)]).toEqual(["25/10/2026 01:30:05", "25/10/2026 01:30:05"]);
});

test("every written iso stamp means the instant it was made from, in zones of any offset", () => {
  for (const zone of ["Asia/Kathmandu", "America/St_Johns", "Pacific/Chatham", "UTC"]) {
    const iso = stampWriter("iso", zone);
    const instants = Array.from({ length: 200 }, (_, i) => at + i * 47 * 3_600_000 + i * 1000);
    expect(instants.map((instant) => Date.parse(iso(instant)))).toEqual(instants);
  }
});
