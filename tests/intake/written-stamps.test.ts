import { expect, it } from "vitest";
import { findWriting } from "../../src/draft/time-writing.js";
import { makeStampReader } from "../../src/intake/stamp.js";
import { timeWriting } from "../../src/site/time-pattern.js";

/** The instant of a stamp as a draft says that it is written. */
function readAsDrafted(stamp: string): { readonly written: string; readonly at: string } | null {
  const written = findWriting([{ text: stamp, line: 2, isLine: true }])?.written;
  if (written === undefined) return null;
  const instant = makeStampReader({ written: timeWriting(written), zone: "UTC", skippedHour: "shift" }).read(stamp);
  return { written, at: new Date(instant).toISOString() };
}

it.each([
  ["20261008T210000Z", "iso"],
  ["20261008T2100Z", "iso"],
  ["20261008T230000+0200", "iso"],
  ["08.10.2026 9:00 p.m.", "dd.MM.yyyy h:mm a"],
  ["8. Oktober 2026 21:00", "d. MMMM yyyy H:mm"],
  ["8 oct. 2026 21:00:00", "d MMM yyyy H:mm:ss"],
  ["08 octobre 2026 21:00", "dd MMMM yyyy HH:mm"],
  ["8 octubre 2026 21:00", "d MMMM yyyy HH:mm"],
  ["8 Okt 2026 21:00", "d MMM yyyy HH:mm"],
  ["October 8, 2026 09:00 PM", "MMMM d, yyyy hh:mm a"],
])("%s is read", (stamp, written) => {
  const found = readAsDrafted(stamp);
  expect(found?.at).toBe("2026-10-08T21:00:00.000Z");
  expect(found?.written.replace("H:", "HH:").replace("HHH", "HH")).toBe(written.replace("H:", "HH:").replace("HHH", "HH"));
});

it("a word that is no month's name makes no stamp", () => {
  expect(readAsDrafted("8 Oktopus 2026 21:00")).toBeNull();
  expect(readAsDrafted("20261308T210000Z")).toBeNull();
});
