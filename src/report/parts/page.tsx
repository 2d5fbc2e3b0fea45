import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import type { Drawings } from "../drawings.js";
import type { LocalClock } from "../local-time.js";
import { Bays } from "./bays.js";
import { Caution } from "./caution.js";
import { Compared } from "./compared.js";
import { Contents } from "./contents.js";
import { Drills } from "./drills.js";
import { Disagreements } from "./disagreements.js";
import { Episodes } from "./episodes.js";
import { GoneWrong } from "./gone-wrong.js";
import { HowClose } from "./how-close.js";
import { HtmlPage } from "./html-page.js";
import { InShort } from "./in-short.js";
import { Ledger } from "./ledger.js";
import { hasMonths, Months } from "./months.js";
import { Method } from "./method.js";
import { References } from "./references.js";
import { Signals } from "./signals.js";
import { Title } from "./title.js";
import { Tuning } from "./tuning.js";
import { ToConfirm } from "./to-confirm.js";
import { Upkeep } from "./upkeep.js";
import { Verdicts } from "./verdicts.js";
import { Wanted } from "./wanted.js";

/** The whole report. */
export function Page({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  return (
    <HtmlPage title={`${findings.site.name}, ${findings.period.label}: which rules are worthy of the key?`} skip={{ to: "verdicts", text: "Skip to the verdicts" }}>
      <Title findings={findings} clock={clock} />
      <main>
        <Caution />
        <InShort findings={findings} />
        <Contents without={[...(findings.rules.length === 0 ? (["short"] as const) : []), ...(findings.tried.length === 0 ? (["compared"] as const) : []), ...(hasMonths(findings) ? [] : (["months"] as const))]} />
        <Verdicts findings={findings} drawings={drawings} />
        <GoneWrong findings={findings} drawings={drawings} clock={clock} />
        <Wanted findings={findings} clock={clock} />
        <HowClose findings={findings} drawings={drawings} clock={clock} />
        <ToConfirm findings={findings} clock={clock} />
        <Signals findings={findings} drawings={drawings} />
        <References findings={findings} />
        <Disagreements findings={findings} drawings={drawings} clock={clock} />
        <Upkeep findings={findings} drawings={drawings} clock={clock} />
        <Months findings={findings} drawing={drawings.months} clocks={drawings.monthClocks} clock={clock} />
        <Bays findings={findings} chart={drawings.bays} />
        <Episodes findings={findings} clock={clock} />
        <Drills findings={findings} drawings={drawings} />
        <Tuning findings={findings} drawings={drawings} clock={clock} />
        <Compared findings={findings} />
        <Ledger findings={findings} clock={clock} />
        <Method findings={findings} />
      </main>
      <footer>
        <p>
          Made by {findings.made.by} from {findings.ledger.length} files, on this machine; nothing was sent anywhere. Every number here is in findings.json.
        </p>
        {findings.redacted ? null : <p class="private">This file says when nobody was home. Keep it private.</p>}
      </footer>
    </HtmlPage>
  );
}
