import { expect, it } from "vitest";
import { drawFleet } from "../../src/report/fleet-page.js";
import { smallFleet } from "./example-fleets.js";

/** As in golden.test.ts, where it is said how to accept a change. */
const lines = (svg: string | undefined): string => `${svg?.replace(/></g, ">\n<") ?? "no drawing"}\n`;

it("the picture of a fleet is as it was", async () => {
  const drawing = await drawFleet(smallFleet);
  expect(drawing).not.toBeNull();
  await expect(lines(drawing?.wide)).toMatchFileSnapshot("golden/fleet-bays.wide.svg");
  await expect(lines(drawing?.narrow)).toMatchFileSnapshot("golden/fleet-bays.narrow.svg");
});
