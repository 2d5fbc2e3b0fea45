import { describe, expect, it } from "vitest";
import { distanceSignal, intakeOf, longSource } from "./example-site.js";

describe("a row with many cells that cannot be read", () => {
  it("is repeated once, however many there are", async () => {
    const ids = Array.from({ length: 50 }, (_, i) => `s${i}`);
    const columns = new Map(ids.map((id) => [id, { value: id }]));
    const { setAside } = await intakeOf(
      { "board.csv": `stamp,${ids.join(",")}\n2026-10-01T10:00:00Z,3.5${",zzzz".repeat(49)}\n` },
      { sources: [longSource({ layout: { form: "wide", columns } })], signals: ids.map((id) => distanceSignal(id, { channel: id })) },
    );
    expect(setAside.map(({ raw }) => (raw.includes("zzzz,zzzz") ? "text" : raw))).toEqual(["text", ...Array.from({ length: 48 }, () => "(the same row)")]);
  });
});
