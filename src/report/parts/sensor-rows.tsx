import type { JSX } from "preact";
import { capitalised } from "../../ground/first-letter.js";
import { isoText } from "../../result/values.js";
import type { Findings } from "../../result/findings.js";
import type { SensorFinding } from "../../result/sensors.js";
import { shortDays } from "../charts/day-places.js";
import { countOf, lengthText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import type { SensorDrawing } from "../sensor-drawings.js";
import { rowsAt, whole } from "../traced.js";
import { HOUR_SECONDS } from "../../ground/units.js";
import { DayStrip } from "./day-strip.js";
import { useClock } from "./local-time.js";
import { Name, Names } from "./name.js";
import { SensorHatches } from "./sensor-hatches.js";
import { SensorMark } from "./sensor-mark.js";
import { StepBars } from "./step-bars.js";

/** More rows cannot be taken in: beyond them only sensors to mend or to look at are listed. */
const MOST_ROWS = 40;
/** More fine ones than this are folded into one line. */
const MOST_FINE = 3;

interface Properties {
  readonly findings: Findings;
  /** As `drawSensors` makes them, one for each of `findings.sensors`. */
  readonly drawings: readonly (SensorDrawing | null)[];
}

/** The id of a sensor's row, for links; null where the sensor has no row. */
export function sensorAnchor(findings: Findings, signal: string): string | null {
  const index = shownSensors(findings).findIndex((one) => one.signal === signal);
  return index < 0 ? null : `sensor-${index + 1}`;
}

/** `two to mend, four to look at, two fine`: what stands beside the heading. */
export function sensorTally({ sensors = [] }: Findings): string {
  const count = (state: SensorFinding["state"]): number => sensors.filter((one) => one.state === state).length;
  const said = [[count("mend"), "to mend"], [count("look"), "to look at"], [count("fine"), "fine"]] as const;
  return said.flatMap(([times, what]) => (times === 0 ? [] : [`${times} ${what}`])).join(", ");
}

/** Those to mend first, then those to look at; the fine ones too where there is room. They are the first of the list. */
function shownSensors({ sensors = [] }: Findings): readonly SensorFinding[] {
  return sensors.length <= MOST_ROWS ? sensors : sensors.filter(({ state }) => state !== "fine");
}

/** A row a sensor, which opens: its state, why, and when; inside, sentences and the picture of its worst stretch. */
export function SensorRows({ findings, drawings }: Properties): JSX.Element | null {
  const clock = useClock();
  const rows = rowsAt(whole(findings), "sensors").slice(0, shownSensors(findings).length);
  const left = (findings.sensors?.length ?? 0) - rows.length;
  if (findings.sensors === undefined || findings.sensors.length === 0) return null;
  const fine = rows.filter(({ of }) => of.state === "fine");
  const folded = fine.length > MOST_FINE ? fine : [];
  const open = rows.filter((row) => !folded.includes(row));
  const rowOf = (row: (typeof rows)[number]): JSX.Element => {
    const { of: sensor, index } = row;
    return (
      <details class={`sensor ${sensor.state}`}>
        <summary>
          <span class="sensor-state"><SensorMark state={sensor.state} /> <b>{sensor.state}</b></span>
          <span class="sensor-name"><Name of={sensor.signal} /></span>
          <span class="sensor-why"><SensorWhy sensor={sensor} /></span>
          <span class="sensor-strip"><DayStrip period={findings.period} stretches={sensor.stretches} clock={clock} isLabelled={index === 0} labelledBy={`sensor-${index + 1}-when`} /><span class="said" id={`sensor-${index + 1}-when`}>{stripLabel(sensor)}</span></span>
        </summary>
        <div class="sensor-body" id={`sensor-${index + 1}`}>
          <p>{sensor.says.flatMap((sentence) => [withCode(sentence), " "])}</p>
          <TwinPicture sensor={sensor} drawing={drawings[index] ?? null} clock={clock} id={`sensor-${index + 1}-worst`} />
        </div>
      </details>
    );
  };
  return (
    <div class="sensors">
      <SensorHatches />
      <p class="sensor-key">
        <i class="key-differed" /> when it differed from what most likely happened, <i class="key-silent" /> when it was silent, <i class="key-unchecked" /> nothing to check it against;
        days across, hours down.
      </p>
      {open.map(rowOf)}
      {folded.length === 0 ? null : (
        <details class="sensor fine">
          <summary>
            <span class="sensor-state"><SensorMark state="fine" /> <b>fine</b></span>
            <span class="sensor-name">{folded.length} more</span>
            <span class="sensor-why"><Names of={folded.map(({ of }) => of.signal)} /></span>
          </summary>
          {folded.map(rowOf)}
        </details>
      )}
      {left > 0 && <p class="sensor-rest">{countOf(left, "more sensor is", "more sensors are")} fine and not listed; findings.json has them under “sensors”.</p>}
    </div>
  );
}

/** Why, and the days over which the gravest fault was seen. */
export function SensorWhy({ sensor: { why, over }, opens = false }: { sensor: SensorFinding; opens?: boolean }): JSX.Element {
  const clock = useClock();
  const [first = "", ...others] = why;
  const said = opens ? capitalised(first) : first;
  const more = others.map((other) => `; ${other}`);
  if (over === null) return <>{said}{more}</>;
  return <>{said}, <time datetime={isoText(over.from)}>{shortDays(over, clock)}</time>{more}</>;
}

/** `differed 40 times, 5 h 3 min in all; silent once`. */
function stripLabel({ differed, stretches: { silent, unchecked } }: SensorFinding): string {
  return [
    differed.count === 0 ? "never differed for two minutes" : `differed ${onceOr(differed.count)}, ${lengthText(differed.hours * HOUR_SECONDS)} in all`,
    ...(silent.length === 0 ? [] : [`silent ${onceOr(silent.length)}`]),
    ...(unchecked.length === 0 ? [] : ["at times nothing to check it against"]),
  ].join("; ");
}

/** `once`, `twice`, `40 times`. */
function onceOr(count: number): string {
  return count === 1 ? "once" : count === 2 ? "twice" : countOf(count, "time");
}

/** Its twin above, itself below: readings where it is a meter, else bars. */
function TwinPicture({ sensor, drawing, clock, id }: { sensor: SensorFinding; drawing: SensorDrawing | null; clock: LocalClock; id: string }): JSX.Element | null {
  const { worst, signal } = sensor;
  if (worst === null || worst.picture === null) return null;
  const { picture } = worst;
  const label = `${shortDays(worst, clock)}, ${clock.shortTime(worst.from)} to ${clock.shortTime(worst.to)}: ${signal} ${worst.text}, wrongly${picture.twin === null ? "" : `; beside it ${picture.twin.signal}`}.`;
  const said = <p class="said" id={id}>{label}</p>;
  if (drawing?.own == null) {
    return (
      <>
        {said}
        <StepBars worst={worst} picture={picture} clock={clock} labelledBy={id} />
      </>
    );
  }
  return (
    <div class="twin-picture" role="img" aria-labelledby={id}>
      {said}
      {drawing.twin !== null && picture.twin !== null && <Lane name={picture.twin.signal} drawing={drawing.twin} />}
      <Lane name={signal} drawing={drawing.own} />
    </div>
  );
}

function Lane({ name, drawing }: { name: string; drawing: NonNullable<SensorDrawing["own"]> }): JSX.Element {
  return (
    <>
      <p class="lane-name"><Name of={name} /></p>
      <div class="chart">
        <div class="wide" dangerouslySetInnerHTML={{ __html: drawing.wide }} />
        <div class="narrow" dangerouslySetInnerHTML={{ __html: drawing.narrow }} />
      </div>
    </>
  );
}

/** What stands between backticks is to be written as it is; a number stays with its unit. */
function withCode(sentence: string): (string | JSX.Element)[] {
  return sentence.replace(/(\d) (s|min|h|d|in|ft|m|cm|mm|%)(?!\w)/g, "$1\u00a0$2").split("`").map((part, index) => (index % 2 === 1 ? <code>{part}</code> : part));
}
