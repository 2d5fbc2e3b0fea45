import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parseScenario } from "../../src/simulate/scenario.js";
import { siteText } from "../../src/simulate/site-text.js";
import { parseSite } from "../../src/site/parse.js";
import { yearScenarioText } from "./year-scenario.js";

test.each(["household", "yard"])("the %s sample's site file is accepted by the site reader, and says what the scenario says", (name) => {
  const scenario = parseScenario(readFileSync(`sample-data/${name}.scenario.yaml`, "utf8"), name);
  const site = parseSite(siteText(scenario), "site.yaml", ".");
  expect(site.name).toBe(scenario.scenario);
  expect(site.signals.map(({ id }) => id).sort()).toEqual(Object.keys(scenario.sensors).sort());
  expect(site.signals.map(({ id, shares, kind, subject }) => ({ id, shares, kind, subject }))).toEqual(
    site.signals.map(({ id }) => ({ id, shares: scenario.sensors[id]!.shares, kind: scenario.sensors[id]!.kind, subject: scenario.sensors[id]!.on })),
  );
  expect(site.rules.length).toBeGreaterThan(2);
  expect(Object.keys(site.limits).sort()).toEqual(["lock", "unlock"]);
});

test("rules keep the comments of the scenario", () => {
  expect(siteText(parseScenario(readFileSync("sample-data/household.scenario.yaml", "utf8"), "s"))).toContain("# Careless: one phone is believed at once.");
});

test("words that YAML would take for numbers stay words; a position brings its home", () => {
  const text = yearScenarioText({
    "site:\n  rules": "  track: { on: ada, source: log, channel: g, kind: position, every: 10min, reads: { latitude: 52, longitude: 13 }, site: { radius: 150m } }\nsite:\n  rules",
    "value: v,": "value: v, latitude: lat, longitude: lon,",
  });
  const site = parseSite(siteText(parseScenario(text, "s.yaml")), "site.yaml", ".");
  expect(site.signals.find(({ id }) => id === "contact-bouncing")!.reading).toEqual({ form: "words", on: ["1"], off: ["0"] });
  expect(site.signals.find(({ id }) => id === "track")!.reading).toEqual({ form: "position", homeLatitude: 52, homeLongitude: 13 });
});
