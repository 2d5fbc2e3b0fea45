import fc from "fast-check";
import { IANAZone } from "luxon";
import { expect, test } from "vitest";
import { zoneOf } from "../../src/ground/zone.js";

const ZONES = ["Europe/London", "America/St_Johns", "Asia/Kathmandu", "Australia/Lord_Howe", "Africa/Monrovia", "Antarctica/Troll", "UTC"];

test("a zone that remembers tells the offset that luxon's own zone tells, before 1972 and since, and when asked again", () => {
  const instants = fc.integer({ min: Date.UTC(1890, 0, 1), max: Date.UTC(2060, 0, 1) });
  fc.assert(
    fc.property(fc.constantFrom(...ZONES), fc.array(instants, { minLength: 1, maxLength: 20 }), (name, asked) => {
      for (const instant of [...asked, ...asked]) expect(zoneOf(name).offset(instant)).toBe(IANAZone.create(name).offset(instant));
    }),
  );
});

test("clocks change at the same millisecond as in luxon's own zone", () => {
  // 25 October 2026, 01:00 UTC: British Summer Time ends (IANA time zone database, rule EU).
  const change = Date.UTC(2026, 9, 25, 1);
  expect([change - 1, change].map((at) => zoneOf("Europe/London").offset(at))).toEqual([60, 0]);
});

test("a zone that nobody knows is invalid and has no offset", () => {
  expect(zoneOf("Mars/Olympus").isValid).toBe(false);
  expect(zoneOf("Mars/Olympus").offset(0)).toBeNaN();
});
