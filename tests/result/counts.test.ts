import { expect, it } from "vitest";
import { countsOf } from "../../src/result/counts.js";
import { countsSchema } from "../../src/result/counts-schema.js";
import { exampleFindings } from "../report/example-findings.js";
import { decoded, encoded, jsonText } from "../../src/result/json-text.js";
import { isoText } from "../../src/result/values.js";

const counts = countsOf(exampleFindings);

it("keeps of an audit what comparisons need", () => {
  expect(decoded(countsSchema, JSON.parse(jsonText(countsSchema, counts))).data).toEqual(counts);
  const wall = counts.signals.find((one) => one.signal === "bay-1-wall")!;
  const score = exampleFindings.signals.find((one) => one.signal === "bay-1-wall")!;
  expect(wall.missedVisits / wall.visits).toBeCloseTo(score.missedShare.value!, 12);
  expect((wall.phantoms / wall.judgedDays) * 30).toBeCloseTo(score.phantomRate.value!, 9);
  expect(wall.lagsArriving.length + wall.lagsLeaving.length).toBe(exampleFindings.episodes.flatMap((one) => one.participants).filter((one) => one.signal === "bay-1-wall" && one.lagSeconds !== null).length);
});

it("holds no instant but the ends of its period and the time of making", () => {
  const instants = jsonText(countsSchema, counts).match(/\d{4}-\d\d-\d\dT[\d:.]+Z/g);
  expect(instants).toEqual([exampleFindings.made.at, exampleFindings.period.from, exampleFindings.period.to].map(isoText));
});

it("reads counts of a later writer, which may hold more", () => {
  expect(decoded(countsSchema, { ...encoded(countsSchema, counts), weather: "rain" }).data).toEqual(counts);
});

it("keeps what readings and clocks are compared by: as the site file took them, and values without their instants", () => {
  const overhead = counts.signals.find((one) => one.signal === "bay-1-overhead")!;
  const band = exampleFindings.bands.find((one) => one.signal === "bay-1-overhead")!;
  expect(overhead.distances).toEqual({ unit: "ft", present: band.present, ...band.looks });
  expect(counts.signals.find((one) => one.signal === "phone-mira")!.distances).toBeNull();
  const [clock] = counts.clocks!;
  expect(clock).toMatchObject({ first: "board-log", second: "mat-log", pairs: exampleFindings.clocks[0]!.pairs });
  // Sources that watch nothing in common have no clocks to compare.
  expect(counts.clocks).toHaveLength(1);
});

it("reads counts of an earlier writer, which lack them", () => {
  const written = encoded(countsSchema, counts);
  const older = { ...written, clocks: undefined, signals: written.signals.map((signal) => ({ ...signal, distances: undefined })) };
  expect(countsSchema.safeParse(JSON.parse(JSON.stringify(older))).error).toBeUndefined();
});
