import type { JSX } from "preact";
import { render } from "preact-render-to-string";
import type { Fleet } from "../result/fleet.js";
import { draw } from "./charts/draw.js";
import { controlledBays, fleetControl } from "./charts/fleet-control.js";
import type { Drawing } from "./charts/drawing.js";
import { countOf } from "./format.js";
import { Datum } from "./parts/datum.js";
import { FleetCost, FleetModes, FleetReliability } from "./parts/fleet-cost.js";
import { FleetFunnel } from "./parts/fleet-funnel.js";
import { FleetAbsent, FleetExports, FleetSince, FleetVisits } from "./parts/fleet-orders.js";
import { FleetMakes, FleetPlaces, FleetSites, HowMany } from "./parts/fleet-tables.js";
import { FleetWhere } from "./parts/fleet-where.js";
import { Fold } from "./parts/fold.js";
import { HtmlPage } from "./parts/html-page.js";
import { LocalTime } from "./parts/local-time.js";
import { Name } from "./parts/name.js";
import { Picture } from "./parts/picture.js";
import { fleetStyle } from "./style-fleet.js";
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
    <HtmlPage title={title} look={fleetStyle} skip={{ to: "first", text: "Skip to the list" }}>
      <header>
        <p class="kicker">
          <b>{others.length === 0 ? <Name of={site} /> : <><Datum at={at} path="parts.*.site" as="distinct" /> sites</>}</b>
          <span>
            {first === last ? <Name of={last} /> : <><Name of={last} />, with those from <Name of={first} /> on</>}: <HowMany at={at} path="parts" one="audit" />,{" "}
            <HowMany at={at} path="bays" one="bay" />, <HowMany at={at} path="signals" one="signal" />
          </span>
          <span class="private">This page tells of sites and their sensors, and when they stand empty: keep it private.</span>
        </p>
      </header>
      <main>
        <section id="first" aria-labelledby="headline">
          <h1 id="headline">{fleet.say.headline}</h1>
          <FleetAbsent fleet={fleet} />
          <FleetExports fleet={fleet} />
          <FleetVisits fleet={fleet} />
          <p class="caution-line"><b>{fleet.say.trust}</b> <a href="#else">How far to trust that</a></p>
          <p class="caution-line">
            Gates come first, then days lost, then what went wrong. Leave wiring to licensed trades. <a href="work-orders.csv">All work orders</a> have a key that stays the
            same every month.
          </p>
        </section>
        <FleetWhere fleet={fleet} />
        <section class="rule" id="since"><h2>Since last month</h2><FleetSince fleet={fleet} /></section>
        {fleet.nights.every(({ days }) => days.length === 0) ? null : <section class="rule" id="cost"><h2>What it costs the rules</h2><FleetCost fleet={fleet} /></section>}
        <section class="rule two">
          <figure>
            <h2>Sensors and their share of wrong changes</h2>
            <figcaption id="funnel-caption">One mark a sensor: crosses are on the list. Above the line is more than chance brings, as seen without those on the list.</figcaption>
            <FleetFunnel fleet={fleet} />
          </figure>
          <div>
            <h2>Ways of failing</h2>
            {fleet.modes.length === 0 ? <p>None.</p> : <FleetModes fleet={fleet} />}
          </div>
        </section>
        <section class="rule" id="else">
          <h2>How far to trust an empty list</h2>
          <div class="two">
            <p><b>What would have been listed:</b> {fleet.say.found}</p>
            <p><b>What could hide:</b> {fleet.say.hide}</p>
          </div>
          {fleet.leftOut.length === 0 ? null : (
            <>
              <h3>Left out</h3>
              <ul>{fleet.leftOut.map(({ what, why }) => <li><Name of={what} />: {why}</li>)}</ul>
            </>
          )}
        </section>
        <section class="rule folds-of-all">
          {fleet.bays.length === 0 ? null : <Fold id="bays" summary="All bays" number={<HowMany at={at} path="bays" one="bay" />}><FleetPicture fleet={fleet} drawing={drawing} /><FleetPlaces fleet={fleet} noun="bay" /></Fold>}
          {fleet.signals.length === 0 ? null : <Fold id="signals" summary="All sensors" number={<HowMany at={at} path="signals" one="signal" />}><FleetPlaces fleet={fleet} noun="signal" /></Fold>}
          {fleet.models.length === 0 ? null : <Fold id="models" summary="Models" number="compared"><FleetMakes fleet={fleet} noun="model" /></Fold>}
          {fleet.firmwares.length === 0 ? null : <Fold id="firmwares" summary="Firmware" number="compared"><FleetMakes fleet={fleet} noun="firmware" /></Fold>}
          {fleet.reliability.length === 0 ? null : <Fold id="reliability" summary="Time between failures" number="by model"><FleetReliability fleet={fleet} /></Fold>}
          <Fold id="sites" summary="Sites and rules" number="verdicts"><FleetSites fleet={fleet} /></Fold>
          <Fold id="method" summary="How it is compared" number="method">
            <p>
              A sensor is listed if it is beyond a limit of its site by itself, or worse than its fellows. Wrong are changes that it did not report and reports of what did not
              happen, each checked without its own word. Where two sensors of one place differ and nobody can tell which is wrong, that is one fault of the place and of neither
              sensor. What a cut file, a renamed channel, a wrong clock, a swapped channel or a board that restarts explains is no sensor’s fault. What is typical is learnt without those
              that stand out. A ratio is drawn towards one the more, the less was seen: a bay with three arrivals is called neither best nor worst. What stands out does so after
              allowing for how many were compared; of all that stand out among their fellows, at most <Datum at={at} path="confidence" as="left to chance" /> % are expected to do so by
              chance.
            </p>
            {fleet.notes.map((note) => <p>{note}</p>)}
          </Fold>
        </section>
      </main>
      <footer>
        <p>
          Compared so that bounds hold <Datum at={at} path="confidence" as="certainty" />. Made <LocalTime at={fleet.made.at} /> UTC by <Name of={fleet.made.by} /> on this machine from
          finished audits; nothing was sent anywhere. Every number here is in fleet.json.
        </p>
      </footer>
    </HtmlPage>
  );
}

/**
 * The small page beside the fleet page that leads to a site's own: so the fleet page is the same wherever those lie.
 * `page` is relative to it; null: there is none.
 */
export function renderSiteLink(site: string, page: string | null): string {
  const name = withVisibleText(site);
  const href = page === null ? null : page.split(/[/\\]/).map((part) => (part === ".." ? part : encodeURIComponent(part))).join("/");
  return `<!doctype html>\n${render(
    <HtmlPage title={`${name}: its page`} skip={{ to: "page", text: "Skip to the link" }}>
      <main id="page">
        <h1><Name of={name} /></h1>
        {href === null ? (
          <p>The page of this site is not on this machine: it was not drawn, or was thinned. Audit it with “--pages all”. Its findings.json has everything.</p>
        ) : (
          <p><a href={href}>The page of this site</a></p>
        )}
        <p><a href="../fleet.html">Back to the fleet</a></p>
      </main>
    </HtmlPage>,
  )}\n`;
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
