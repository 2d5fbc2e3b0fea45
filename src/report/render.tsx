import type { JSX } from "preact";
import { render } from "preact-render-to-string";
import type { Findings } from "../result/findings.js";
import { makeChartShapes, type ChartShapes } from "./charts/chart-shapes.js";
import { drawAll, type Drawings } from "./drawings.js";
import { dayClock, localClock } from "./local-time.js";
import { Answer } from "./parts/answer.js";
import { Appendix } from "./parts/appendix.js";
import { Caution } from "./parts/caution.js";
import { HtmlPage } from "./parts/html-page.js";
import { Kicker } from "./parts/kicker.js";
import { Clock, LocalTime, useClock } from "./parts/local-time.js";
import { Name } from "./parts/name.js";
import { Rules } from "./parts/rule-screen.js";
import { sensorTally, SensorRows } from "./parts/sensor-rows.js";
import { TypicalDay } from "./parts/typical-day.js";
import { hasTypicalDay } from "./sensor-drawings.js";
import { withVisibleText } from "./visible-text.js";

/**
 * The report: one HTML page that needs nothing else, runs nothing and asks for nothing. A pure function of the
 * findings: the same findings give the same page, to the byte.
 * Steps: 1. what cannot be seen in names is made visible; 2. the charts are drawn; 3. the page is written, every text
 * escaped. `shapes` only saves time: pass the same to all reports of a run. `fleetPage`: where a page lies that compares
 * this site or its bays with others, as an address relative to the report.
 */
export async function renderReport(findings: Findings, shapes: ChartShapes = makeChartShapes(), fleetPage: string | null = null): Promise<string> {
  const shown = withVisibleText(findings);
  const clock = shown.redacted ? dayClock : localClock(shown.site.timeZone);
  const drawings = await drawAll(shown, clock, shapes);
  const page = (
    <Clock.Provider value={clock}>
      <Page findings={shown} drawings={drawings} fleetPage={fleetPage} />
    </Clock.Provider>
  );
  return `<!doctype html>\n${render(page)}\n`;
}

interface Properties {
  readonly findings: Findings;
  readonly drawings: Drawings;
}

/** The whole report: the answer, a screen a rule, the sensors, and everything else folded. */
function Page({ findings, drawings, fleetPage }: Properties & { fleetPage: string | null }): JSX.Element {
  return (
    <HtmlPage title={`${findings.site.name}, ${findings.period.label}: which rules can you switch on?`} skip={{ to: "answer", text: "Skip to the answer" }}>
      <Kicker findings={findings} fleetPage={fleetPage} />
      <main>
        <Answer findings={findings} />
        <Rules findings={findings} drawings={drawings} />
        <Sensors findings={findings} drawings={drawings} />
        <Appendix findings={findings} drawings={drawings} />
        <Caution />
      </main>
      <Footer findings={findings} />
    </HtmlPage>
  );
}

/** A row a sensor, then what an ordinary day looks like; what there is nothing of is not there. */
function Sensors({ findings, drawings }: Properties): JSX.Element {
  return (
    <>
      {(findings.sensors ?? []).length === 0 ? null : (
        <section class="sensors" aria-labelledby="sensors">
          <h2 id="sensors">
            Sensors <small>{sensorTally(findings)}</small>
          </h2>
          <SensorRows findings={findings} drawings={drawings.sensors} />
        </section>
      )}
      {hasTypicalDay(findings) ? (
        <section class="typical" aria-labelledby="typical-day">
          <h2 id="typical-day">
            A typical weekday <small>who and what is here, by hour</small>
          </h2>
          <TypicalDay findings={findings} drawing={drawings.typicalDay} />
        </section>
      ) : null}
    </>
  );
}

function Footer({ findings: { made } }: { findings: Findings }): JSX.Element {
  return (
    <footer>
      <p>
        Made <LocalTime at={made.at} /> by {made.by}, on this machine; nothing was sent anywhere. Times are local, <Name of={useClock().zone} />. Every
        number here is in findings.json.
      </p>
    </footer>
  );
}
