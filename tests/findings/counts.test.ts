import { expect, it } from "vitest";
import { countsOf } from "../../src/findings/counts.js";
import { countsSchema } from "../../src/findings/counts-schema.js";
import { exampleFindings } from "../report/example-findings.js";

const counts = countsOf(exampleFindings);

it("keeps of an audit what comparisons need", () => {
  expect(countsSchema.parse(JSON.parse(JSON.stringify(counts)))).toEqual(counts);
  const wall = counts.signals.find((one) => one.signal === "bay-1-wall")!;
  const score = exampleFindings.signals.find((one) => one.signal === "bay-1-wall")!;
  expect(wall.missedVisits / wall.visits).toBeCloseTo(score.missedShare.value!, 12);
  expect((wall.phantoms / wall.judgedDays) * 30).toBeCloseTo(score.phantomRate.value!, 9);
  expect(wall.lagsArriving.length + wall.lagsLeaving.length).toBe(exampleFindings.episodes.flatMap((one) => one.participants).filter((one) => one.signal === "bay-1-wall" && one.lagSeconds !== null).length);
});

it("holds no instant but the ends of its period and the time of making", () => {
  const instants = JSON.stringify(counts).match(/\d{4}-\d\d-\d\dT[\d:.]+Z/g);
  expect(instants).toEqual([exampleFindings.made.at, exampleFindings.period.from, exampleFindings.period.to]);
});

it("reads counts of a later writer, which may hold more", () => {
  expect(countsSchema.parse({ ...counts, weather: "rain" })).toEqual(counts);
});
