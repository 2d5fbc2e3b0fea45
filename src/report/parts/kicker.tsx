import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { amountText } from "../format.js";
import { useClock } from "./local-time.js";
import { Name } from "./name.js";

/** Which site, which period; and that the file is private. */
export function Kicker({ findings: { site, period, redacted }, fleetPage }: { findings: Findings; fleetPage: string | null }): JSX.Element {
  const clock = useClock();
  return (
    <header>
      <p class="kicker">
        <b>
          <Name of={site.name} />
        </b>
        <span>
          {clock.day(period.from)} to {clock.day(period.to - 1)}, {amountText(period.days)} days
        </span>
        {fleetPage === null ? null : <a href={fleetPage}>compared with others</a>}
        <span class="private">
          {redacted ? "Names, places and dates were replaced. It still shows when somebody comes and goes." : "This page shows when nobody was there: keep it private."}
        </span>
      </p>
    </header>
  );
}
