import type { JSX } from "preact";
import type { Findings, SignalScore } from "../../result/schema.js";
import { DataTable, numbers, words } from "./data-table.js";
import { FigureText } from "./figure-text.js";
import { LeftOut, MOST_TABLED } from "./left-out.js";
import { Name, Names } from "./name.js";

interface Pair {
  readonly first: string;
  readonly sibling: SignalScore["siblings"][number];
  readonly path: string;
}

/** Signals of one subject side by side, and what they have in common. */
export function Siblings({ findings }: { findings: Findings }): JSX.Element {
  const pairs = pairsOf(findings.signals);
  const causes = findings.site.sharedCauses.filter(({ signals }) => signals.length > 1);
  return (
    <>
      <h3>Signals side by side</h3>
      {pairs.length === 0 ? <p>No two signals watch the same subject, so none can stand in for another.</p> : <PairTable pairs={pairs} />}
      <LeftOut count={pairs.length - MOST_TABLED} file="findings.json" />
      {causes.length === 0 ? null : (
        <>
          <p>What several signals depend on. When it fails, they fail together:</p>
          <ul>
            {causes.map(({ cause, signals }) => (
              <li>
                <Name of={cause} />: <Names of={signals} />
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function PairTable({ pairs }: { pairs: readonly Pair[] }): JSX.Element {
  return (
    <DataTable
      id="siblings" stacks
      caption="Signals of the same subject: how far they agree with each other, and beyond chance (kappa)"
      columns={[words("Signals"), numbers("Agreeing"), numbers("Kappa"), words("Independent?")]}
      rows={pairs.slice(0, MOST_TABLED).map(({ first, sibling, path }) => [
        <>
          <Name of={first} /> and <Name of={sibling.signal} />
        </>,
        <FigureText of={sibling.agreement} from={`${path}.agreement`} />,
        <FigureText of={sibling.kappa} from={`${path}.kappa`} />,
        sibling.sharedCauses.length === 0 ? (
          "The site file names nothing that both depend on."
        ) : (
          <>
            <strong>These two are not independent witnesses:</strong> both depend on <Names of={sibling.sharedCauses} />. Their agreeing proves less than it seems.
          </>
        ),
      ])}
    />
  );
}

/** Each pair once, though each of the two names the other. */
function pairsOf(signals: readonly SignalScore[]): Pair[] {
  const place = new Map(signals.map((signal, index) => [signal.signal, index]));
  return signals.flatMap((signal, index) =>
    signal.siblings.flatMap((sibling, at) => ((place.get(sibling.signal) ?? Infinity) > index ? [{ first: signal.signal, sibling, path: `signals.${index}.siblings.${at}` }] : [])),
  );
}
