import { describe, expect, it } from "vitest";
import { draftSite } from "../../src/draft/draft-site.js";
import { draftTable } from "../../src/draft/draft-table.js";
import { parseSite } from "../../src/site/parse.js";
import { iso, sample } from "./invented-exports.js";
import { daysOf, home, type Point } from "./invented-tracks.js";

/** Places as CSV, as who said them. */
function drafted(tracks: Readonly<Record<string, readonly Point[]>>) {
  const rows = Object.entries(tracks).flatMap(([who, points]) => points.map(([at, latitude, longitude]) => `${iso(at)},${who},${Number.isNaN(latitude) ? "0,0" : `${latitude.toFixed(6)},${longitude.toFixed(6)}`}`));
  return draftSite([sample("places.csv", ["at,who,lat,lon", ...rows].join("\n"))], { site: "s", file: "site.yaml" });
}
const HOUR = 3_600_000;
const METRE = 1 / 111_195;
/** At home but for the given metres to the north, every ten minutes; then a day away. */
const atMetres = (...metres: readonly number[]): Point[] => [
  ...Array.from({ length: 200 }, (_, i) => [(i - 200) * HOUR / 6, home.latitude, home.longitude] as const),
  ...metres.map((north, i) => [i * HOUR / 6, home.latitude + north * METRE, home.longitude] as const),
].map(([at, latitude, longitude]) => [at + Date.UTC(2026, 5, 10), latitude, longitude]);

describe("the home that is proposed", () => {
  const found = drafted({ mira: daysOf(8), tom: daysOf(8, 45) });

  it("is where all who say their place rest most, whatever the format, with everybody's share as evidence", () => {
    expect(parseSite(found.yaml.replace(/^timezone: .*$/m, "timezone: UTC"), "site.yaml", "").signals.map(({ reading }) => reading)).toEqual([
      { form: "position", homeLatitude: home.latitude, homeLongitude: home.longitude },
      { form: "position", homeLatitude: home.latitude, homeLongitude: home.longitude },
    ]);
    expect(found.yaml).toMatch(/# place-mira rests there 6\d % of its time \(\d+ h of 192 h\), place-tom rests there 6\d % of its time \(\d+ h of 192 h\); at the place with the next most rest 3\d %/);
  });

  it("stands in the site file once, and nowhere else", () => {
    const place = /50\.0[0-9]|-3\.0[0-9]/g;
    expect(found.yaml.match(place)).toHaveLength(2);
    expect(JSON.stringify([found.findings, found.open, found.problems, draftTable(found, true)])).not.toMatch(place);
  });

  it("is left open after less than 8 hours of rest", () => {
    expect(drafted({ mira: daysOf(8).slice(0, 60) }).yaml).toContain("home: { latitude: FILL-IN, longitude: FILL-IN }");
    expect(drafted({ mira: daysOf(8).slice(0, 100) }).yaml).not.toContain("FILL-IN, longitude");
  });

  it("does not count a phone without a fix as away", () => {
    const points = atMetres(0, 0, Number.NaN, 0);
    const [placing] = drafted({ mira: points }).placings;
    expect([...placing!.signal.states].slice(-4)).toEqual([1, 1, Number.NaN, 1]);
  });
});

describe("a column each for latitude and longitude", () => {
  it("is called after what else the column's name says, else after the file", () => {
    const placed = (header: string) => {
      const rows = daysOf(2).map(([at, latitude, longitude]) => `${iso(at)},${latitude},${longitude}`);
      const [placing] = draftSite([sample("tom-2026.csv", [header, ...rows].join("\n"))], { site: "s", file: "site.yaml" }).placings;
      return [placing?.signal.id, placing?.subject];
    };
    expect(placed("at,Mira lat,Mira lon")).toEqual(["place-mira", "mira"]);
    expect(placed("at,latitude,longitude")).toEqual(["place-tom", "tom"]);
  });
});

describe("near and away", () => {
  it("have slack between them: a place that wavers is no going", () => {
    const [placing] = drafted({ mira: atMetres(0, 140, 160, 175, 185, 160, 145) }).placings;
    expect([...placing!.signal.states].slice(-7)).toEqual([1, 1, 1, 1, 0, 0, 1]);
  });

  it("lie farther out where places at home waver more", () => {
    const wavering = atMetres(...Array.from({ length: 400 }, (_, i) => 90 * Math.sin(i / 2)));
    const found = drafted({ mira: wavering });
    expect(found.yaml).toMatch(/# 95 % of its rest at home lies within (8|9|10)\d? m of that place/);
    expect(found.yaml).toContain("    radius: 200m\n");
    expect(found.yaml).toMatch(/ {4}slack: (90|100)m\n/);
  });
});
