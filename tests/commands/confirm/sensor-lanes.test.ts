import { expect, it } from "vitest";
import { sensorLanes, type LaneFindings } from "../../../src/commands/confirm/sensor-lanes.js";

const at = (text: string): number => Date.parse(text);
const period = { from: at("2026-06-01T00:00:00Z"), to: at("2026-06-08T00:00:00Z"), days: 7, label: "2026-06" };
const hours = (count: number): string => (count * 3_600_000).toString(36);
const minutes = (count: number): string => (count * 60_000).toString(36);
const findings = (signals: readonly (readonly [string, string, string])[]): LaneFindings => ({
  period,
  site: { timeZone: "Europe/London", subjects: [{ id: "ida", class: "person", vehicle: null }, { id: "bay", class: "bay", vehicle: null }] },
  signals: signals.map(([signal]) => ({ signal, kind: signal.endsWith("motion") ? "stir" : "flag" })),
  histories: { signals: signals.map(([signal, subject, steps]) => ({ signal, subject, steps })), subjects: [{ subject: "ida", steps: "n0" }], rules: [] },
});

it("draws a lane a signal under marks of local time, and says what its signs mean", () => {
  const found = findings([["overhead", "bay", `f0 n${hours(16)}`], ["phone", "ida", `u0 n${hours(15)} f${minutes(80)} n${minutes(1)} f${minutes(1)}`]]);
  expect(sensorLanes(found, { from: at("2026-06-01T15:00:00Z"), to: at("2026-06-01T17:00:00Z") }, 36)).toBe(
    [
      "What the sensors said, 1 Jun 2026 16:00 to 1 Jun 2026 18:00",
      "            16:00       17:00",
      "            |           |",
      "  overhead  ............############",
      "  phone     ################+.......",
      "",
      "  # here, occupied   . away, empty   ? not known   + changed back and forth",
    ].join("\n"),
  );
});

it("calls movement stirring and still, for it never says that somebody is away", () => {
  const text = sensorLanes(findings([["hall motion", "ida", "f0"], ["overhead", "bay", "f0"]]), { from: at("2026-06-01T10:00:00Z"), to: at("2026-06-01T12:00:00Z") }, 80);
  expect(text).toContain("  # occupied, stirring   . empty, still   ? not known");
});

it("marks days over several nights, also when the clocks change", () => {
  const lines = sensorLanes(findings([["phone", "ida", "n0"]]), { from: at("2026-06-01T22:00:00Z"), to: at("2026-06-05T05:00:00Z") }, 80).split("\n");
  expect([lines[1]!.trim().split(/ {2,}/), lines[2]!.match(/\|/g)]).toEqual([["2 Jun", "3 Jun", "4 Jun", "5 Jun"], ["|", "|", "|", "|"]]);
});

it("does not say what most likely happened, and knows nothing outside the period", () => {
  const found = findings([["overhead", "bay", "f0"]]);
  expect(sensorLanes(found, { from: at("2026-06-01T10:00:00Z"), to: at("2026-06-01T12:00:00Z") }, 80)).not.toMatch(/^ {2}ida/m);
  expect(sensorLanes(found, { from: at("2026-07-01T10:00:00Z"), to: at("2026-07-01T12:00:00Z") }, 80)).toBe("Nothing is known of what the sensors said then.");
});

it("cuts names that leave no room for the lanes, in their middle, so that every line fits the terminal", () => {
  const name = (end: string): string => `${"north-gate-".repeat(30)}${end}`;
  const text = sensorLanes(findings([[name("outer"), "bay", "f0"], [name("inner"), "bay", "f0"]]), { from: at("2026-06-01T10:00:00Z"), to: at("2026-06-01T12:00:00Z") }, 60);
  expect(text.split("\n").slice(3, 5)).toEqual([`  north-gate-north…orth-gate-outer  ${".".repeat(24)}`, `  north-gate-north…orth-gate-inner  ${".".repeat(24)}`]);
});
