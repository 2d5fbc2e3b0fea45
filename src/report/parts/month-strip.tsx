import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { RuleFinding } from "../../result/rules.js";
import { HOURS_PER_DAY, SECOND_MS } from "../../ground/units.js";
import { NIGHT_SPANS } from "../../ground/night.js";
import { dayCount, dayPieces, dayPlace } from "../charts/day-places.js";
import { useClock } from "./local-time.js";
import { percent } from "../charts/percent.js";

/** How a firing is marked: `supported` is unverified, but one sensor outside the rule says that it was right. */
type Kind = "right" | "unverified" | "supported" | "wrong";

/** Drawn in this order: the wrong ones last, on top. */
const kinds: readonly Kind[] = ["right", "supported", "unverified", "wrong"];

const measures = { small: { top: 12, hour: 1.75, mark: 1 }, large: { top: 16, hour: 4, mark: 1.4 } } as const;

type Size = keyof typeof measures;

interface Properties {
  readonly rule: RuleFinding;
  readonly findings: Findings;
  readonly size: Size;
  /** Id of the words that say what it shows. */
  readonly labelledBy: string;
}

/**
 * Every firing of a period by local day and hour: days across, hours down, midnight on top; nights shaded, hatched where nobody could say
 * whether the condition held, the diary as a bar below.
 * Widths are shares of the page's, heights are px, so that no text is scaled.
 */
export function MonthStrip({ rule, findings, size, labelledBy }: Properties): JSX.Element {
  const { top, hour, mark } = measures[size];
  const clock = useClock();
  const days = dayCount(findings.period, clock);
  const placeOf = (at: number): number => dayPlace(at, findings.period, clock);
  const bottom = top + HOURS_PER_DAY * hour;
  const x = (at: number): string => percent(placeOf(at) / days);
  const ends = findings.questions.diaryEnds;
  const seconds = (at: number): number => (at - findings.period.from) / SECOND_MS;
  const unheard = (findings.decision.rules.find((one) => one.rule === rule.name)?.unheard ?? []).map(({ from, to }) => [seconds(from), seconds(to)] as const);
  return (
    <svg class={`month-strip ${size}`} width="100%" height={bottom + (size === "large" ? 22 : 8)} role="img" aria-labelledby={labelledBy}>
      {NIGHT_SPANS.map(([from, to]) => <rect class="night" x="0" y={top + from * hour} width="100%" height={(to - from) * hour} />)}
      {dayPieces(unheard, findings.period, clock).map(({ day, fromHour, toHour }) => (
        <rect class="unheard" x={percent(day / days)} width={percent(1 / days)} y={px(top + fromHour * hour)} height={px((toHour - fromHour) * hour)} />
      ))}
      <path class="frame" d={`M0 ${bottom}H4000`} />
      {findings.decision.diary.map(({ from, to }) => (
        <rect class="diary" x={x(from)} y={bottom + 2} width={percent((placeOf(to) - placeOf(from)) / days)} height="3" />
      ))}
      {ends === null || ends >= findings.period.to ? null : <line class="diary-end" x1={x(ends)} x2={x(ends)} y1={top} y2={bottom} />}
      {size === "large" ? <Hours top={top} hour={hour} /> : null}
      {kinds.map((kind) => (
        <g class={`fired ${kind}`}>
          {rule.firingList
            .filter((one) => kindOf(one) === kind)
            .map(({ at }) => (
              <Mark kind={kind} x={percent((Math.floor(placeOf(at)) + 0.5) / days)} y={top + (placeOf(at) % 1) * HOURS_PER_DAY * hour} scale={mark} />
            ))}
        </g>
      ))}
      <text class="quiet" x="0" y={top - 4}>
        {clock.date(findings.period.from)}
      </text>
      <text class="quiet" x="100%" y={top - 4} text-anchor="end">
        {clock.date(findings.period.to - 1)}
      </text>
      {ends === null || ends >= findings.period.to ? null : (
        <text class="quiet" x={x(ends)} y={top - 4} text-anchor={placeOf(ends) / days > 0.8 ? "end" : "middle"}>
          diary ends
        </text>
      )}
    </svg>
  );
}

function Hours({ top, hour }: { top: number; hour: number }): JSX.Element {
  return (
    <>
      {[6, 12, 18].map((at) => (
        <>
          <path class="grid" d={`M0 ${top + at * hour}H4000`} />
          <text class="quiet halo" x="2" y={top + at * hour - 3}>
            {at === 12 ? "noon" : `${String(at).padStart(2, "0")}:00`}
          </text>
        </>
      ))}
    </>
  );
}

function Mark({ kind, x, y, scale }: { kind: Kind; x: string; y: number; scale: number }): JSX.Element {
  const at = px(y);
  if (kind === "right") return <circle cx={x} cy={at} r={px(1.7 * scale)} />;
  if (kind === "unverified") return <circle cx={x} cy={at} r={px(2.5 * scale)} />;
  if (kind === "supported") {
    return (
      <>
        <circle cx={x} cy={at} r={px(2.5 * scale)} />
        <circle class="dot" cx={x} cy={at} r={px(1.1 * scale)} />
      </>
    );
  }
  const arm = px(3 * scale);
  return (
    <svg class="over" x={x} y={at} width="1" height="1">
      <path d={`M${-arm} ${-arm}L${arm} ${arm}M${arm} ${-arm}L${-arm} ${arm}`} />
    </svg>
  );
}

/** What marks mean, with how many of each there are; those of which there are none are left out. */
export function StripKey({ rules }: { rules: readonly RuleFinding[] }): JSX.Element {
  const words: Readonly<Record<Kind, string>> = { right: "right", unverified: "unverified", supported: "unverified, but one sensor outside the rule says right", wrong: "wrong" };
  const there = kinds.filter((kind) => rules.some(({ firingList }) => firingList.some((one) => kindOf(one) === kind))).toReversed();
  return (
    <>
      {there.map((kind, i) => (
        <>
          {i > 0 ? ", " : ""}
          <svg class="inline-mark" width="12" height="12" aria-hidden="true">
            <g class={`fired ${kind}`}>
              <Mark kind={kind} x="6" y={6} scale={1.3} />
            </g>
          </svg>
          {words[kind]}
        </>
      ))}
      {there.length > 0 ? "; " : ""}nights shaded, diary below
    </>
  );
}

function kindOf({ outcome, supported }: RuleFinding["firingList"][number]): Kind {
  return outcome === "unverified" && supported === "right" ? "supported" : outcome;
}

function px(length: number): number {
  return Math.round(length * 10) / 10;
}
