import type { JSX } from "preact";
import type { Fleet, WorkOrder } from "../../result/fleet.js";
import { rowsAt, type TracedRow, whole } from "../traced.js";
import { Datum } from "./datum.js";
import { ModeMark, modeWords } from "./mode-mark.js";
import { Name } from "./name.js";
import { OrderStrip } from "./order-strip.js";

type Row = TracedRow<WorkOrder, Fleet>;

/** Orders on the first screen; the others stand below a fold, and all in work-orders.csv. */
const FIRST_ORDERS = 10;

/** Who belongs to the round and is not in it. */
export function FleetAbsent({ fleet }: { fleet: Fleet }): JSX.Element | null {
  if (fleet.absent.length === 0) return null;
  return (
    <div class="ask" id="absent">
      <h2>Missing</h2>
      <ul>
        {fleet.absent.map(({ site, why }) => (
          <li>
            <b><Name of={site} />:</b> {why}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Exports to ask for again, before anybody goes anywhere. */
export function FleetExports({ fleet }: { fleet: Fleet }): JSX.Element | null {
  const rows = openRows(fleet, "export");
  if (rows.length === 0) return null;
  return (
    <div class="ask" id="ask">
      <h2><ModeMark mode="export" /> Ask again for</h2>
      <ul>
        {rows.map((row) => (
          <li>
            <b><PageLink of={row.of} />, <Name of={row.of.place} />:</b> {row.of.reason} {row.of.nextStep}
            {row.of.nightsLost === 0 ? null : <> <b><Datum at={row} path="nightsLost" as="count" /> {row.of.nightsLost === 1 ? "day" : "days"} unjudged.</b></>}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Where to send someone, gates first, then by what it cost. */
export function FleetVisits({ fleet }: { fleet: Fleet }): JSX.Element | null {
  const rows = [...openRows(fleet, "place"), ...openRows(fleet, "update")];
  if (rows.length === 0) return null;
  const [first, more] = [rows.slice(0, FIRST_ORDERS), rows.slice(FIRST_ORDERS)];
  return (
    <>
      <div class="heads order" aria-hidden="true">
        <span>Send someone here first</span>
        <span>Why</span>
        <span>Day by day: wrong, silent, flickers from above; its neighbour below</span>
        <span>Send, with</span>
      </div>
      <ol class="rows">{first.map((row) => <OrderRow row={row} />)}</ol>
      {more.length === 0 ? null : (
        <details class="fold">
          <summary><span>And further places</span> <b>all of them</b></summary>
          <ol class="rows">{more.map((row) => <OrderRow row={row} />)}</ol>
        </details>
      )}
    </>
  );
}

function OrderRow({ row }: { row: Row }): JSX.Element {
  const { of } = row;
  return (
    <li class="row order" id={`order-${row.index}`}>
      <div class="who">
        <ModeMark mode={of.mode} />
        <div>
          <PageLink of={of} /> <small>{of.state === "new" ? "new" : <>month <Datum at={row} path="monthsOpen" as="count" /></>}</small>
          <b class="breaks">
            {modeWords[of.mode]}
            {of.kind === "update" ? null : <>, <Name of={of.firstSeen} /> to <Name of={of.lastSeen} /></>}
          </b>
        </div>
      </div>
      <p>
        {of.reason}
        {of.nightsLost === 0 ? null : <> It cost the rules <Datum at={row} path="nightsLost" as="count" /> {of.nightsLost === 1 ? "day" : "days"}.</>}
        {of.rules.length === 0 ? null : <> {of.gate ? "A gate or door, read by " : "Read by "}{of.rules.map((rule, i) => <>{i > 0 ? ", " : ""}“<Name of={rule} />”</>)}.</>}
      </p>
      <div class="strip-cell"><OrderStrip strip={of.strip} label={`${of.place}, day by day: hours wrong and silent, and how often it flickered`} /></div>
      <p>
        <b>{sentence(of.who)}</b>{of.part === "" ? "." : <>, with <Name of={of.part} />.</>} {of.nextStep}
      </p>
    </li>
  );
}

function PageLink({ of }: { of: WorkOrder }): JSX.Element {
  const name = of.site === "" ? <Name of={of.place} /> : <><Name of={of.site} /> {of.kind === "export" ? null : <Name of={of.place} />}</>;
  return of.page === "" ? <span class="rule-name">{name}</span> : <a class="rule-name" href={of.page}>{name}</a>;
}

/** New, still open and mended, each with its own figure in the months at hand. */
export function FleetSince({ fleet }: { fleet: Fleet }): JSX.Element | null {
  const rows = rowsAt(whole(fleet), "orders").filter(({ of }) => of.trend.points.length > 1);
  if (rows.length === 0) return <p class="lead">{fleet.say.since}</p>;
  const heads = { new: "New", open: "Still open", mended: "Mended" } as const;
  return (
    <>
      <p class="lead">{fleet.say.since} The last mark is now.</p>
      <div class="three">
        {(["open", "new", "mended"] as const).filter((state) => rows.some(({ of }) => of.state === state)).map((state) => (
          <div>
            <h3>{heads[state]}</h3>
            {rows.filter(({ of }) => of.state === state).slice(0, FIRST_ORDERS).map((row) => <Trend row={row} />)}
          </div>
        ))}
      </div>
    </>
  );
}

function Trend({ row }: { row: Row }): JSX.Element {
  const { points, unit } = row.of.trend;
  const most = Math.max(1e-9, ...points.map(({ value }) => value ?? 0));
  const place = (i: number): number => Math.round((100 * (i + 0.5)) / points.length);
  const marks = points.flatMap(({ value }, i) => (value === null ? [] : [{ x: place(i), y: Math.round(24 - 20 * (value / most)), last: i === points.length - 1 }]));
  return (
    <div class="trend">
      <p><ModeMark mode={row.of.mode} /> {row.of.site === "" ? null : <><Name of={row.of.site} /> </>}<Name of={row.of.place} /><br /><small>{unit}</small></p>
      <div>
        <svg width="100%" height="28" viewBox="0 0 100 28" preserveAspectRatio="none" aria-hidden="true">
          <path class="grid" vector-effect="non-scaling-stroke" d={marks.map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x} ${y}`).join("")} />
          {marks.map(({ x, y, last }) => <path class={last ? (row.of.state === "mended" ? "clears" : "breaks") : "open"} vector-effect="non-scaling-stroke" d={`M${x - 1} ${y}h2`} />)}
        </svg>
        <small>{points.map((_, i) => <>{i > 0 ? " · " : ""}<Datum at={row} path={`trend.points.${i}.value` as "priority"} as="amount" none="–" /></>)}</small>
      </div>
    </div>
  );
}

function openRows(fleet: Fleet, kind: WorkOrder["kind"]): Row[] {
  return rowsAt(whole(fleet), "orders").filter(({ of }) => of.kind === kind && of.state !== "mended");
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
