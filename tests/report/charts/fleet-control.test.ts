import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { controlledBays, fleetControl } from "../../../src/report/charts/fleet-control.js";
import { fleetOfBays, smallFleet, wideFleet } from "../example-fleets.js";
import { hostileNames } from "../hostile-findings.js";

const [first] = smallFleet.bays;
const named = (site: string, bay: string) => ({ ...first!, site, bay });

describe("the bays of the picture", () => {
  it("stand in the order of what is expected of them, each with its own limits", () => {
    const bays = controlledBays(smallFleet.bays);
    expect(bays).toHaveLength(smallFleet.bays.length);
    expect(bays.map(({ expected }) => expected)).toEqual(smallFleet.bays.map(({ faults }) => faults.expected!).toSorted((a, b) => a - b));
    for (const { label, count, low, high, out } of bays) {
      const { faults } = smallFleet.bays.find(({ bay }) => bay === label)!;
      expect([count, low, high, out]).toEqual([faults.count, faults.controlLow, faults.controlHigh, faults.standsOut]);
    }
  });

  it("leave out those that are not compared", () => {
    expect(controlledBays(fleetOfBays(2, []).bays)).toEqual([]);
    expect(fleetControl([], "wide")).toBeNull();
  });

  it("are all that stand out and an even choice of the others where there are too many", () => {
    const out = wideFleet.bays.filter(({ faults }) => faults.standsOut).map(({ bay }) => bay);
    const shown = controlledBays(wideFleet.bays, 50);
    expect(out.length).toBeGreaterThan(1);
    expect(shown).toHaveLength(50);
    expect(shown.filter((bay) => bay.out).map(({ label }) => label).toSorted()).toEqual(out.toSorted());
    const places = controlledBays(wideFleet.bays).map(({ label }) => label);
    const gaps = shown.filter((bay) => !bay.out).map(({ label }) => places.indexOf(label)).map((place, index, all) => place - (all[index - 1] ?? -1));
    expect(Math.max(...gaps)).toBeLessThan(10);
  });

  it("are told apart by the shortest name that does", () => {
    expect(controlledBays([named("a", "bay-1"), named("a", "bay-2")]).map(({ label }) => label)).toEqual(["bay-1", "bay-2"]);
    expect(controlledBays([named("a", "bay-1"), named("b", "bay-1")]).map(({ label }) => label)).toEqual(["a", "b"]);
    expect(controlledBays([named("a", "bay-1"), named("b", "bay-1"), named("b", "bay-2")]).map(({ label }) => label)).toEqual(["bay-1, a", "bay-1, b", "bay-2, b"]);
  });
});

describe("the picture of a fleet", () => {
  it.each(["wide", "narrow"] as const)("names those that stand out beside a shape of their own, %s", async (breadth) => {
    const svg = await draw(fleetControl(controlledBays(wideFleet.bays), breadth)!, "a");
    const out = wideFleet.bays.filter(({ faults }) => faults.standsOut);
    for (const { bay } of out) expect(svg).toContain(`>${bay}<`);
    expect(svg.match(/font-weight="bold"/g)).toHaveLength(out.length);
    expect(svg.match(/<path [^>]*fill="var\(--brick\)"/g)).toHaveLength(out.length);
    expect(svg.match(/<path [^>]*fill="var\(--blue\)"/g)).toHaveLength(wideFleet.bays.length - out.length);
  });

  it("names every bay below the axis where there is room, and writes a row for none", async () => {
    const four = fleetOfBays(4, [2]).bays;
    const svg = await draw(fleetControl(controlledBays(four), "narrow")!, "a");
    for (const { bay } of four) expect(svg).toContain(`>${bay}<`);
    expect(await draw(fleetControl(controlledBays(smallFleet.bays), "narrow")!, "a")).not.toContain(">bay-000<");
  });

  it("stays small, however many bays there are", async () => {
    const many = Array.from({ length: 5000 }, (_, index) => ({ ...wideFleet.bays[index % wideFleet.bays.length]!, bay: `bay ${index}` })).map((bay) => ({ ...bay, faults: { ...bay.faults, standsOut: false } }));
    expect((await draw(fleetControl(controlledBays(many), "wide")!, "a")).length).toBeLessThan(100_000);
  });

  it.each(Object.entries(hostileNames))("keeps %s as text", async (_, name) => {
    const four = fleetOfBays(4, [2]).bays.map((bay, index) => ({ ...bay, bay: `${name}${index}` }));
    const svg = await draw(fleetControl(controlledBays(four), "wide")!, "a");
    expect(svg).not.toMatch(/<(?!\/?(?:svg|g|path|line|text|rect)\b)/);
  });
});
