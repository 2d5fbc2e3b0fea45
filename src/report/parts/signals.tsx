import type { ComponentChildren, JSX } from "preact";
import type { Findings, SignalScore } from "../../result/schema.js";
import { agreementAxisStart } from "../charts/agreement-dots.js";
import { type Drawings, leastAgreeing } from "../drawings.js";
import { shareText } from "../format.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { LeftOut, MOST_TABLED } from "./left-out.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";
import { Siblings } from "./siblings.js";

/** Every signal, judged against what most likely was so without its own vote. */
export function Signals({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  const { signals } = findings;
  const { agreement, lags } = drawings;
  const shown = leastAgreeing(signals);
  const cut = shown.length < signals.length ? ` Shown are the ${shown.length} signals that agreed least.` : "";
  return (
    <Section id="signals" heading={partHeadings.signals}>
      {signals.length === 0 ? (
        <p>The site file names no signals.</p>
      ) : (
        <>
          <p>Each signal is judged against what most likely was so, worked out without it. Where nobody else could tell, there is no figure, and the table says why.</p>
          {agreement === null ? null : (
            <figure>
              <figcaption id="agreement-caption">
                Share of time agreeing: dot the share, bar its interval. The axis begins at {shareText(agreementAxisStart(shown), 2)}.{cut} The numbers stand in the table below.
              </figcaption>
              <Chart drawing={agreement} labelledBy="agreement-caption" />
            </figure>
          )}
          <AgreementTable signals={signals} />
          {lags === null ? null : (
            <figure>
              <figcaption id="lags-caption">
                How late each signal was, over all arrivals and departures: a bar for so many of its lags, the highest bar of a row its most frequent. Left of the dotted line it was
                earlier than what most likely was so, right of it later. The steps widen outwards.{cut} Medians and 90th percentiles stand in the table below.
              </figcaption>
              <Chart drawing={lags} labelledBy="lags-caption" />
            </figure>
          )}
          <ConductTable signals={signals} />
          <WitnessTable signals={signals} />
          <LeftOut count={signals.length - leastAgreeing(signals, MOST_TABLED).length} file="signals.csv" />
        </>
      )}
      <Siblings findings={findings} />
    </Section>
  );
}

/** A row each for the signals shown, which are those that agreed least where there are too many. */
function eachShown(signals: readonly SignalScore[], row: (signal: SignalScore, index: number) => ComponentChildren[]): ComponentChildren[][] {
  const shown = new Set(leastAgreeing([...signals], MOST_TABLED));
  return signals.flatMap((signal, index) => (shown.has(signal) ? [row(signal, index)] : []));
}

function AgreementTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-agreement"
      sorts
      caption="How often each signal agreed, missed, or reported what was not there"
      columns={[words("Signal"), numbers("Agreeing"), numbers("While on"), numbers("While off"), numbers("Visits missed"), numbers("Phantoms per 30 days"), words("Transitions")]}
      rows={eachShown(signals, (signal, index) => [
        <SignalName of={signal} />,
        <FigureText of={signal.agreement} from={`signals.${index}.agreement`} />,
        <FigureText of={signal.agreementGivenOn} from={`signals.${index}.agreementGivenOn`} />,
        <FigureText of={signal.agreementGivenOff} from={`signals.${index}.agreementGivenOff`} />,
        <FigureText of={signal.missedShare} from={`signals.${index}.missedShare`} />,
        <FigureText of={signal.phantomRate} from={`signals.${index}.phantomRate`} bare />,
        <small>
          <Turns of={signal} index={index} kind="reference" /> in the reference: <Turns of={signal} index={index} kind="matched" /> matched,{" "}
          <Turns of={signal} index={index} kind="missed" /> missed; <Turns of={signal} index={index} kind="phantom" /> phantom,{" "}
          <Turns of={signal} index={index} kind="fragmented" /> fragmented
        </small>,
      ])}
    />
  );
}

function ConductTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-conduct"
      sorts
      caption="How late each signal was (below 0: early), and how often it was silent, restarted or flapped"
      columns={[
        words("Signal"),
        numbers("Lag to on, median"),
        numbers("Lag to on, 90th percentile"),
        numbers("Lag to off, median"),
        numbers("Lag to off, 90th percentile"),
        numbers("Known"),
        words("Silences"),
        numbers("Restarts"),
        numbers("Flaps"),
      ]}
      rows={eachShown(signals, (signal, index) => [
        <SignalName of={signal} />,
        <FigureText of={signal.lagOn.median} from={`signals.${index}.lagOn.median`} />,
        <FigureText of={signal.lagOn.p90} from={`signals.${index}.lagOn.p90`} />,
        <FigureText of={signal.lagOff.median} from={`signals.${index}.lagOff.median`} />,
        <FigureText of={signal.lagOff.p90} from={`signals.${index}.lagOff.p90`} />,
        <Datum of={signal.knownShare} from={`signals.${index}.knownShare`} as="share" />,
        <>
          <Datum of={signal.silences.count} from={`signals.${index}.silences.count`} as="count" />
          {signal.silences.count === 0 ? null : (
            <small>
              <Datum of={signal.silences.hours} from={`signals.${index}.silences.hours`} as="hours" /> in all, longest{" "}
              <Datum of={signal.silences.longestHours} from={`signals.${index}.silences.longestHours`} as="hours" />
            </small>
          )}
        </>,
        <Datum of={signal.restarts} from={`signals.${index}.restarts`} as="count" />,
        <Datum of={signal.flaps} from={`signals.${index}.flaps`} as="count" />,
      ])}
    />
  );
}

function WitnessTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-witnesses"
      sorts
      caption="Whom each signal was judged against: hours of the period by who could tell"
      columns={[words("Signal"), words("Other witnesses"), numbers("Diary, h"), numbers("Several, h"), numbers("One only, h"), numbers("Nobody, h"), numbers("Readings"), words("Depends on")]}
      rows={eachShown(signals, (signal, index) => [
        <SignalName of={signal} />,
        <Names of={signal.judgedAgainst.witnesses} />,
        ...(["diary", "several", "one", "none"] as const).map((basis) => (
          <Datum of={signal.judgedAgainst.hours[basis]} from={`signals.${index}.judgedAgainst.hours.${basis}`} as="amount" />
        )),
        <Datum of={signal.readings} from={`signals.${index}.readings`} as="count" />,
        <Names of={signal.shares} />,
      ])}
      total={[
        "All",
        <>
          <Datum of={signals} from="signals" as="size" /> {signals.length === 1 ? "signal" : "signals"}
        </>,
        "",
        "",
        "",
        "",
        <Datum of={signals.map(({ readings }) => readings)} from="signals.*.readings" as="sum" />,
        "",
      ]}
    />
  );
}

function Turns({ of, index, kind }: { of: SignalScore; index: number; kind: keyof SignalScore["transitions"] }): JSX.Element {
  return <Datum of={of.transitions[kind]} from={`signals.${index}.transitions.${kind}`} as="count" />;
}

function SignalName({ of }: { of: SignalScore }): JSX.Element {
  return (
    <>
      <Name of={of.signal} />
      <small>
        {of.kind} on <Name of={of.subject} />
        {of.model === null ? "" : `, ${of.model}`}
      </small>
    </>
  );
}
