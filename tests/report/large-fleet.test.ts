import { beforeAll, describe, expect, it } from "vitest";
import { MOST_LISTED } from "../../src/report/parts/folded.js";
import { renderReport } from "../../src/report/render.js";
import { largeFleet } from "./large-fleet.js";

const MOST_BYTES = 3_000_000;

describe("the report on 200 bays", () => {
  let html: string;
  beforeAll(async () => {
    html = await renderReport(largeFleet(200));
  });

  it("stays under three megabytes", () => {
    expect(Buffer.byteLength(html)).toBeLessThan(MOST_BYTES);
  });

  it("says of every list it cuts how much is left out, and where it stands", () => {
    expect(html).toContain(`24,785 more are not shown here, to keep this page small; episodes.csv has them all.`);
    expect(html).toContain(`List of the first ${MOST_LISTED} of 24,800 episodes`);
    expect(html).toMatch(/more are not shown here, to keep this page small; firings\.csv has them all\./);
  });

  it("keeps a row for every bay", () => {
    const table = html.slice(html.indexOf('id="bays-faults"')).split("</table>")[0] ?? "";
    expect(table.match(/<tr[ >]/g)).toHaveLength(201);
  });
});
