import type { JSX } from "preact";
import type { Findings, SignalScore } from "../../findings/schema.js";
import { agreementAxisStart } from "../charts/agreement-dots.js";
import type { Drawing } from "../drawings.js";
import { amountText, countOf, countText, lengthText, shareText } from "../format.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { FigureText } from "./figure-text.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";
import { Siblings } from "./siblings.js";

const HOUR_SECONDS = 3600;

/** Every signal, judged against what most likely was so without its own vote. */
export function Signals({ findings, agreement }: { findings: Findings; agreement: Drawing | null }): JSX.Element {
  const { signals } = findings;
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
                Share of time agreeing: dot the share, bar its interval. The axis begins at {shareText(agreementAxisStart(signals), 2)}. The numbers stand in the table below.
              </figcaption>
              <Chart drawing={agreement} labelledBy="agreement-caption" />
            </figure>
          )}
          <AgreementTable signals={signals} />
          <ConductTable signals={signals} />
          <WitnessTable signals={signals} />
        </>
      )}
      <Siblings findings={findings} />
    </Section>
  );
}

function AgreementTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-agreement"
      caption="How often each signal agreed, missed, or reported what was not there"
      columns={[words("Signal"), numbers("Agreeing"), numbers("Given on"), numbers("Given off"), numbers("Visits missed"), numbers("Phantoms per 30 days"), words("Transitions")]}
      rows={signals.map((signal) => [
        <SignalName of={signal} />,
        <FigureText of={signal.agreement} />,
        <FigureText of={signal.agreementGivenOn} />,
        <FigureText of={signal.agreementGivenOff} />,
        <FigureText of={signal.missedShare} />,
        <FigureText of={{ ...signal.phantomRate, unit: "" }} />,
        <small>
          {countText(signal.transitions.reference)} in the reference: {countText(signal.transitions.matched)} matched, {countText(signal.transitions.missed)} missed;{" "}
          {countText(signal.transitions.phantom)} phantom, {countText(signal.transitions.fragmented)} fragmented
        </small>,
      ])}
    />
  );
}

function ConductTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-conduct"
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
      rows={signals.map((signal) => [
        <SignalName of={signal} />,
        <FigureText of={signal.lagOn.median} />,
        <FigureText of={signal.lagOn.p90} />,
        <FigureText of={signal.lagOff.median} />,
        <FigureText of={signal.lagOff.p90} />,
        shareText(signal.knownShare),
        <>
          {countText(signal.silences.count)}
          {signal.silences.count === 0 ? "" : <small>{lengthText(signal.silences.hours * HOUR_SECONDS)} in all, longest {lengthText(signal.silences.longestHours * HOUR_SECONDS)}</small>}
        </>,
        countText(signal.restarts),
        countText(signal.flaps),
      ])}
    />
  );
}

function WitnessTable({ signals }: { signals: readonly SignalScore[] }): JSX.Element {
  return (
    <DataTable
      id="signals-witnesses"
      caption="Whom each signal was judged against: hours of the period by who could tell"
      columns={[words("Signal"), words("Other witnesses"), numbers("Diary, h"), numbers("Several, h"), numbers("One only, h"), numbers("Nobody, h"), numbers("Readings"), words("Depends on")]}
      rows={signals.map((signal) => [
        <SignalName of={signal} />,
        <Names of={signal.judgedAgainst.witnesses} />,
        amountText(signal.judgedAgainst.hours.diary),
        amountText(signal.judgedAgainst.hours.several),
        amountText(signal.judgedAgainst.hours.one),
        amountText(signal.judgedAgainst.hours.none),
        countText(signal.readings),
        <Names of={signal.shares} />,
      ])}
      total={["All", countOf(signals.length, "signal"), "", "", "", "", countText(signals.reduce((sum, signal) => sum + signal.readings, 0)), ""]}
    />
  );
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
