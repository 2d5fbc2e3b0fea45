import type { JSX } from "preact";
import { render } from "preact-render-to-string";
import type { Findings } from "../result/findings.js";
import { makeChartShapes, type ChartShapes } from "./charts/chart-shapes.js";
import { drawAll, type Drawings } from "./drawings.js";
import { dayClock, localClock } from "./local-time.js";
import { Bays } from "./parts/bays.js";
import { Caution } from "./parts/caution.js";
import { Compared } from "./parts/compared.js";
import { Disagreements } from "./parts/disagreements.js";
import { Drills, wasDrilled } from "./parts/drills.js";
import { Episodes } from "./parts/episodes.js";
import { GoneWrong } from "./parts/gone-wrong.js";
import { HowClose } from "./parts/how-close.js";
import { HtmlPage } from "./parts/html-page.js";
import { InShort } from "./parts/in-short.js";
import { Ledger } from "./parts/ledger.js";
import { Clock } from "./parts/local-time.js";
import { Method } from "./parts/method.js";
import { hasMonths, Months } from "./parts/months.js";
import { References } from "./parts/references.js";
import { hasRoads, Roads } from "./parts/roads.js";
import { Contents, type PartId, partHeadings, Section } from "./parts/section.js";
import { Signals } from "./parts/signals.js";
import { Title } from "./parts/title.js";
import { ToConfirm } from "./parts/to-confirm.js";
import { Tuning } from "./parts/tuning.js";
import { Upkeep, upkeepOf } from "./parts/upkeep.js";
import { Verdicts } from "./parts/verdicts.js";
import { MendFirst } from "./parts/mend-first.js";
import { Wanted } from "./parts/wanted.js";
import { withVisibleText } from "./visible-text.js";

/**
 * The report: one HTML page that needs nothing else, runs nothing and asks for nothing. A pure function of the
 * findings: the same findings give the same page, to the byte.
 * Steps: 1. what cannot be seen in names is made visible; 2. the charts are drawn; 3. the page is written, every text
 * escaped. `shapes` only saves time: pass the same to all reports of a run.
 */
export async function renderReport(findings: Findings, shapes: ChartShapes = makeChartShapes()): Promise<string> {
  const shown = withVisibleText(findings);
  const clock = shown.redacted ? dayClock : localClock(shown.site.timeZone);
  const drawings = await drawAll(shown, clock, shapes);
  const page = (
    <Clock.Provider value={clock}>
      <Page findings={shown} drawings={drawings} />
    </Clock.Provider>
  );
  return `<!doctype html>\n${render(page)}\n`;
}

interface Properties {
  readonly findings: Findings;
  readonly drawings: Drawings;
}

/**
 * Whether a part has anything to say; without, it is not there, nor in the contents. Some are always there, or
 * wherever there are rules: without them one could not tell "nothing was found" from "nobody looked".
 */
const says: Readonly<Record<PartId, (findings: Findings) => boolean>> = {
  caution: () => true,
  short: hasRules,
  verdicts: () => true,
  mend: hasRules,
  roads: hasRoads,
  wrong: hasRules,
  wanted: hasRules,
  close: hasRules,
  confirm: ({ questions }) => questions.rules.length > 0,
  signals: ({ signals }) => signals.length > 0,
  references: ({ references }) => references.length > 0,
  disagreements: ({ disagreements, diary }) => disagreements.length + diary.conflicts.count > 0,
  upkeep: (findings) => Object.values(upkeepOf(findings)).includes(true),
  months: hasMonths,
  bays: ({ bays }) => bays.length > 0,
  episodes: ({ episodes, phantoms }) => episodes.length + phantoms.length > 0,
  drills: ({ rules }) => rules.some(wasDrilled),
  tuning: ({ rules }) => rules.some(({ tuning }) => tuning !== null),
  compared: ({ tried }) => tried.length > 0,
  ledger: () => true,
  method: () => true,
};

function hasRules({ rules }: Findings): boolean {
  return rules.length > 0;
}

const bodies: Readonly<Record<PartId, (properties: Properties) => JSX.Element>> = {
  caution: Caution,
  short: InShort,
  verdicts: Verdicts,
  mend: MendFirst,
  roads: Roads,
  wrong: GoneWrong,
  wanted: Wanted,
  close: HowClose,
  confirm: ToConfirm,
  signals: Signals,
  references: References,
  disagreements: Disagreements,
  upkeep: Upkeep,
  months: Months,
  bays: Bays,
  episodes: Episodes,
  drills: Drills,
  tuning: Tuning,
  compared: Compared,
  ledger: Ledger,
  method: Method,
};

/** The whole report. */
function Page({ findings, drawings }: Properties): JSX.Element {
  const parts = (Object.keys(partHeadings) as PartId[]).filter((id) => says[id](findings));
  return (
    <HtmlPage
      title={`${findings.site.name}, ${findings.period.label}: which rules are worthy of the key?`}
      skip={{ to: "verdicts", text: "Skip to the verdicts" }}
    >
      <Title findings={findings} />
      <main>
        {parts.map((id) => {
          const Body = bodies[id];
          return (
            <>
              {id === "verdicts" ? <Contents parts={parts} /> : null}
              <Section id={id} heading={partHeadings[id]} ends={id === "short"}>
                <Body findings={findings} drawings={drawings} />
              </Section>
            </>
          );
        })}
      </main>
      <footer>
        <p>
          Made by {findings.made.by} from {findings.ledger.length} files, on this machine; nothing was sent anywhere. Every number here is
          in findings.json.
        </p>
        {findings.redacted ? null : <p class="private">This file says when nobody was home. Keep it private.</p>}
      </footer>
    </HtmlPage>
  );
}
