import type { JSX } from "preact";
import { render } from "preact-render-to-string";
import type { Fleet } from "../result/fleet.js";
import { draw } from "./charts/draw.js";
import { controlledBays, fleetControl } from "./charts/fleet-control.js";
import type { Drawing } from "./charts/drawing.js";
import { countOf } from "./format.js";
import { Datum } from "./parts/datum.js";
import { FleetMakes, FleetPlaces, FleetSites, FleetVisits, HowMany } from "./parts/fleet-tables.js";
import { HtmlPage } from "./parts/html-page.js";
import { LocalTime } from "./parts/local-time.js";
import { Name } from "./parts/name.js";
import { Picture } from "./parts/picture.js";
import { Section } from "./parts/section.js";
import { whole } from "./traced.js";
import { withVisibleText } from "./visible-text.js";

/**
 * The fleet result as one HTML page, under the same rules as the report: nothing loaded, nothing sent, every text
 * escaped.
 */
export async function renderFleet(fleet: Fleet): Promise<string> {
  const shown = withVisibleText(fleet);
  return `<!doctype html>\n${render(<FleetPage fleet={shown} drawing={await drawFleet(shown)} />)}\n`;
}

/**
 * The picture of the fleet page, in both breadths; null where no bay is compared. Public so that a test can compare
 * the drawing with a stored one, apart from the page.
 */
export async function drawFleet(fleet: Pick<Fleet, "bays">): Promise<Drawing | null> {
  const bays = controlledBays(fleet.bays);
  const [wide, narrow] = [fleetControl(bays, "wide"), fleetControl(bays, "narrow")];
  return wide === null || narrow === null ? null : { wide: await draw(wide, "fleet-bays-w"), narrow: await draw(narrow, "fleet-bays-n") };
}

function FleetPage({ fleet, drawing }: { fleet: Fleet; drawing: Drawing | null }): JSX.Element {
  const at = whole(fleet);
  const [site = "", ...others] = new Set(fleet.parts.map((part) => part.site));
  const where = others.length === 0 ? site : countOf(others.length + 1, "site");
  const labels = fleet.parts.map(({ period }) => period.label).toSorted();
  const [first = "", last = ""] = [labels.at(0), labels.at(-1)];
  const title = `${where}, ${first === last ? first : `${first} to ${last}`}, ${countOf(fleet.bays.length, "bay")}: where to send someone first`;
  return (
    <HtmlPage title={title} skip={{ to: "first", text: "Skip to the list" }}>
      <header>
        <p class="private">This file tells of sites and their sensors. Keep it private.</p>
        <h1>
          {others.length === 0 ? (
            <Name of={site} />
          ) : (
            <>
              <Datum at={at} path="parts.*.site" as="distinct" /> sites
            </>
          )}{" "}
          <span class="question">Where should someone go first?</span>
        </h1>
        <p>
          <HowMany at={at} path="parts" one="audit" /> of <Name of={first} />
          {first === last ? null : (
            <>
              {" "}
              to <Name of={last} />
            </>
          )}
          , <HowMany at={at} path="bays" one="bay" />, <HowMany at={at} path="signals" one="signal" />; compared at <Datum at={at} path="confidence" as="chosen share" /> confidence.
          Made <LocalTime at={fleet.made.at} /> UTC by <Name of={fleet.made.by} />.
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
        {fleet.bays.length === 0 ? null : (
          <Section id="bays" heading="Bays">
            <FleetPicture fleet={fleet} drawing={drawing} />
            <FleetPlaces fleet={fleet} noun="bay" />
          </Section>
        )}
        {fleet.signals.length === 0 ? null : (
          <Section id="signals" heading="Signals">
            <FleetPlaces fleet={fleet} noun="signal" />
          </Section>
        )}
        {fleet.models.length === 0 ? null : (
          <Section id="models" heading="Models">
            <FleetMakes fleet={fleet} noun="model" />
          </Section>
        )}
        {fleet.firmwares.length === 0 ? null : (
          <Section id="firmwares" heading="Firmware">
            <FleetMakes fleet={fleet} noun="firmware" />
          </Section>
        )}
        <Section id="sites" heading="Sites and rules">
          <FleetSites fleet={fleet} />
        </Section>
        <Section id="method" heading="How it is compared">
          <p>
            Faults are missed turns (changes from on to off or back that a signal did not report) and phantoms (changes it reported that did
            not happen). Where two sensors of one place differ and nobody can tell which is wrong, that is one fault of the place and of
            neither sensor. Known is the share of the time in which the signal's state was known. What is expected of a bay or signal is
            what its fellows' rate brings for its own turns and time; the limits allow for how much fellows differ by nature. A ratio is
            drawn towards one the more, the less was seen: a bay with three arrivals is called neither best nor worst. What stands out does
            so after allowing for how many were compared; of all that stand out, at most{" "}
            <Datum at={at} path="confidence" as="left to chance" /> % are expected to do so by chance.
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

/** All bays against what is expected of each, with a caption that says in words what there is to see. */
function FleetPicture({ fleet, drawing }: { fleet: Fleet; drawing: Drawing | null }): JSX.Element {
  const { bays } = fleet;
  const compared = bays.filter(({ faults }) => faults.expected !== null).length;
  const out = bays.filter(({ faults }) => faults.standsOut).length;
  return (
    <Picture id="bays-caption" drawing={drawing}>
      Faults of each bay: dot what was counted, dashed line what its fellows lead one to expect of its own turns and time, band its control
      limits. Bays of which more is expected stand further right. A dot outside the band may be there by chance, since many are
      compared.{" "}
      {out === 0 ? (
        "None stands out by its faults."
      ) : (
        <>
          <Datum at={whole(fleet)} path="bays" as="faults standing out" />{" "}
          {out === 1
            ? "stands out by its faults and is a diamond, with its name"
            : "stand out by their faults and are diamonds, with their names"}{" "}
          where there is room.
        </>
      )}
      {compared < bays.length ? " Bays that cannot be compared are not shown." : ""}
      {controlledBays(bays).length < compared ? " Of those that do not stand out an even choice is shown." : ""} The numbers stand in the
      table below and in bays.csv.
    </Picture>
  );
}
