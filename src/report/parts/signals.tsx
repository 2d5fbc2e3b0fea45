import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { agreementAxisStart } from "../charts/agreement-dots.js";
import { type Drawings, leastAgreeing } from "../drawings.js";
import { shareText } from "../format.js";
import { rowsAt, type TracedRow, whole } from "../traced.js";
import { type Column, DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LeftOut, MOST_TABLED } from "./folded.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";
import { Siblings } from "./siblings.js";
import { Stirs } from "./stirs.js";
import type { SignalScore } from "../../result/signals.js";

type Signal = TracedRow<SignalScore, Findings>;

/** Every signal, judged against what most likely was so without its own vote. */
export function Signals({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  const { signals } = findings;
  const drawn = leastAgreeing(signals);
  const cut = drawn.length < signals.length ? ` Shown are the ${drawn.length} signals that agreed least.` : "";
  // Those that agreed least where there are too many.
  const listed = new Set(leastAgreeing(signals, MOST_TABLED));
  const rows = rowsAt(whole(findings), "signals").filter(({ of }) => listed.has(of));
  return (
    <>
      <p>
        Each signal is judged against what most likely was so, worked out without it. Where nobody else could tell, there is no figure, and
        the table says why.
      </p>
      <Picture id="agreement-caption" drawing={drawings.agreement}>
        Share of time agreeing: dot the share, bar its interval. The axis begins at {shareText(agreementAxisStart(drawn), 2)}.{cut} The
        numbers stand in the table below.
      </Picture>
      <AgreementTable rows={rows} />
      <Picture id="lags-caption" drawing={drawings.lags}>
        How late each signal was, over all arrivals and departures: a bar for so many of its lags, the highest bar of a row its most
        frequent. Left of the dotted line it was earlier than what most likely was so, right of it later. The steps widen outwards.{cut}{" "}
        Medians and 90th percentiles stand in the table below.
      </Picture>
      <ConductTable rows={rows} />
      <WitnessTable rows={rows} findings={findings} />
      <LeftOut count={signals.length - rows.length} file="signals.csv" />
      <Stirs findings={findings} />
      <Siblings findings={findings} />
    </>
  );
}

const named: Pick<Column<Signal>, "head"> & { cell: (signal: Signal) => JSX.Element } = {
  head: "Signal",
  cell: ({ of }) => (
    <>
      <Name of={of.signal} />
      <small>
        {of.kind} on <Name of={of.subject} />
        {of.model === null ? "" : `, ${of.model}`}
      </small>
    </>
  ),
};

function AgreementTable({ rows }: { rows: readonly Signal[] }): JSX.Element {
  return (
    <DataTable
      id="signals-agreement"
      sorts
      caption="How often each signal agreed, missed, or reported what was not there"
      rows={rows}
      columns={[
        named,
        { head: "Agreeing", path: "agreement", as: "figure" },
        { head: "While on", path: "agreementGivenOn", as: "figure" },
        { head: "While off", path: "agreementGivenOff", as: "figure" },
        { head: "Visits missed", path: "missedShare", as: "figure" },
        { head: "Phantoms per 30 days", path: "phantomRate", as: "figure without unit" },
        { head: "Transitions", cell: (signal) => <Transitions of={signal} /> },
      ]}
    />
  );
}

function Transitions({ of }: { of: Signal }): JSX.Element {
  return (
    <small>
      <Datum at={of} path="transitions.reference" as="count" /> in the reference: <Datum at={of} path="transitions.matched" as="count" />{" "}
      matched, <Datum at={of} path="transitions.missed" as="count" /> missed; <Datum at={of} path="transitions.phantom" as="count" />{" "}
      phantom, <Datum at={of} path="transitions.fragmented" as="count" /> fragmented
    </small>
  );
}

function ConductTable({ rows }: { rows: readonly Signal[] }): JSX.Element {
  return (
    <DataTable
      id="signals-conduct"
      sorts
      caption="How late each signal was (below 0: early), and how often it was silent, restarted or flapped"
      rows={rows}
      columns={[
        named,
        { head: "Lag to on, median", path: "lagOn.median", as: "figure" },
        { head: "Lag to on, 90th percentile", path: "lagOn.p90", as: "figure" },
        { head: "Lag to off, median", path: "lagOff.median", as: "figure" },
        { head: "Lag to off, 90th percentile", path: "lagOff.p90", as: "figure" },
        { head: "Known", path: "knownShare", as: "share" },
        { head: "Silences", cell: (signal) => <Silences of={signal} /> },
        { head: "Restarts", path: "restarts", as: "count" },
        { head: "Flaps", path: "flaps", as: "count" },
      ]}
    />
  );
}

function Silences({ of }: { of: Signal }): JSX.Element {
  return (
    <>
      <Datum at={of} path="silences.count" as="count" />
      {of.of.silences.count === 0 ? null : (
        <small>
          <Datum at={of} path="silences.hours" as="hours" /> in all, longest <Datum at={of} path="silences.longestHours" as="hours" />
        </small>
      )}
    </>
  );
}

function WitnessTable({ rows, findings }: { rows: readonly Signal[]; findings: Findings }): JSX.Element {
  const at = whole(findings);
  const all = (
    <>
      <Datum at={at} path="signals" as="size" /> {findings.signals.length === 1 ? "signal" : "signals"}
    </>
  );
  return (
    <DataTable
      id="signals-witnesses"
      sorts
      caption="Whom each signal was judged against: hours of the period by who could tell"
      rows={rows}
      columns={[
        { ...named, total: "All" },
        { head: "Other witnesses", path: "judgedAgainst.witnesses", as: "names", total: all },
        { head: "Diary, h", path: "judgedAgainst.hours.diary", as: "amount" },
        { head: "Several, h", path: "judgedAgainst.hours.several", as: "amount" },
        { head: "One only, h", path: "judgedAgainst.hours.one", as: "amount" },
        { head: "Nobody, h", path: "judgedAgainst.hours.none", as: "amount" },
        { head: "Readings", path: "readings", as: "count", total: <Datum at={at} path="signals.*.readings" as="sum" /> },
        { head: "Depends on", path: "shares", as: "names" },
      ]}
    />
  );
}
