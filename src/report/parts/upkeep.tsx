import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawings } from "../drawings.js";
import type { LocalClock } from "../local-time.js";
import { Bands } from "./bands.js";
import { Changes } from "./changes.js";
import { Clocks } from "./clocks.js";
import { partHeadings } from "./contents.js";
import { Section } from "./section.js";

/** Clocks, bands, and what got worse within the period: what somebody can set right. */
export function Upkeep({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="upkeep" heading={partHeadings.upkeep}>
      <h3>Clocks</h3>
      <Clocks clocks={findings.clocks} />
      <h3>Bands</h3>
      <Bands bands={findings.bands} drawings={drawings.bands} />
      <h3>Changes within the period</h3>
      <Changes changes={findings.changes} drawings={drawings.changes} clock={clock} />
    </Section>
  );
}
