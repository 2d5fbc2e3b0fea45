import { render } from "preact-render-to-string";
import type { JSX } from "preact";
import type { Fleet } from "../result/fleet-schema.js";
import { draw } from "./charts/draw.js";
import { controlledBays, fleetControl } from "./charts/fleet-control.js";
import type { Drawing } from "./drawings.js";
import { countOf } from "./format.js";
import { localClock } from "./local-time.js";
import { Datum } from "./parts/datum.js";
import { HowMany } from "./parts/fleet-how-many.js";
import { FleetPicture } from "./parts/fleet-picture.js";
import { FleetBays, FleetMakes, FleetSignals, FleetSites, FleetVisits } from "./parts/fleet-tables.js";
import { HtmlPage } from "./parts/html-page.js";
import { LocalTime } from "./parts/local-time.js";
import { Name } from "./parts/name.js";
import { Section } from "./parts/section.js";
import { withVisibleText } from "./visible-text.js";

/** The fleet result as one HTML page, under the same rules as the report: nothing loaded, nothing sent, every text escaped. */
export async function renderFleet(fleet: Fleet): Promise<string> {
  const shown = withVisibleText(fleet);
  return `<!doctype html>\n${render(<FleetPage fleet={shown} chart={await drawFleet(shown)} />)}\n`;
}

/** The picture of the fleet page, in both breadths; null where no bay is compared. */
export async function drawFleet(fleet: Pick<Fleet, "bays">): Promise<Drawing | null> {
  const bays = controlledBays(fleet.bays);
  const [wide, narrow] = [fleetControl(bays, "wide"), fleetControl(bays, "narrow")];
  return wide === null || narrow === null ? null : { wide: await draw(wide, "fleet-bays-w"), narrow: await draw(narrow, "fleet-bays-n") };
}

function FleetPage({ fleet, chart }: { fleet: Fleet; chart: Drawing | null }): JSX.Element {
  const sites = fleet.parts.map((part) => part.site);
  const siteCount = new Set(sites).size;
  const title = `${siteCount === 1 ? sites[0] : countOf(siteCount, "site")}, ${countOf(fleet.bays.length, "bay")}: where to send someone first`;
  return (
    <HtmlPage title={title} skip={{ to: "first", text: "Skip to the list" }}>
      <header>
        <p class="private">This file tells of sites and their sensors. Keep it private.</p>
        <h1>
          {siteCount === 1 ? (
            <Name of={sites[0]!} />
          ) : (
            <>
              <Datum of={sites} from="parts.*.site" as="distinct" /> sites
            </>
          )}{" "}
          <span class="question">Where should someone go first?</span>
        </h1>
        <p>
          <HowMany of={fleet.parts} from="parts" one="audit" />, <HowMany of={fleet.bays} from="bays" one="bay" />, <HowMany of={fleet.signals} from="signals" one="signal" />; compared at{" "}
          <Datum of={fleet.confidence} from="confidence" as="chosen share" /> confidence. Made <LocalTime at={fleet.made.at} clock={localClock("UTC")} /> UTC by <Name of={fleet.made.by} />.
        </p>
      </header>
      <main>
        <Section id="first" heading="Send someone here first">
          <FleetVisits fleet={fleet} />
        </Section>
        {fleet.leftOut.length === 0 ? null : (
          <Section id="left-out" heading="Left out">
            <ul>
              {fleet.leftOut.map(({ what, why }) => (
                <li>
                  <Name of={what} />: {why}
                </li>
              ))}
            </ul>
          </Section>
        )}
        <Section id="bays" heading="Bays">
          {chart === null ? null : <FleetPicture bays={fleet.bays} chart={chart} />}
          <FleetBays bays={fleet.bays} />
        </Section>
        <Section id="signals" heading="Signals">
          <FleetSignals signals={fleet.signals} />
        </Section>
        <Section id="models" heading="Models">
          <FleetMakes noun="model" rows={fleet.models} signals={fleet.signals} />
        </Section>
        <Section id="firmwares" heading="Firmware">
          <FleetMakes noun="firmware" rows={fleet.firmwares} signals={fleet.signals} />
        </Section>
        <Section id="sites" heading="Sites and rules">
          <FleetSites parts={fleet.parts} />
        </Section>
        <Section id="method" heading="How it is compared">
          <p>
            Faults are missed turns (changes from on to off or back that a signal did not report) and phantoms (changes it reported that did not happen). Where two sensors of one place differ and nobody can tell which is wrong, that is one fault of the place and of neither sensor. Known is the share of the time in which the signal's state was
            known. What is expected of a bay or signal is what its fellows' rate brings for its own turns and time; the limits allow for how much fellows differ by nature. A
            ratio is drawn towards one the more, the less was seen: a bay with three arrivals is called neither best nor worst. What stands out does so after allowing for how many were compared; of all
            that stand out, at most <Datum of={fleet.confidence} from="confidence" as="left to chance" /> % are expected to do so by chance.
          </p>
          {fleet.notes.map((note) => (
            <p>{note}</p>
          ))}
        </Section>
      </main>
      <footer>
        <p>Made on this machine from finished audits; nothing was sent anywhere. Every number here is in fleet.json.</p>
      </footer>
    </HtmlPage>
  );
}
