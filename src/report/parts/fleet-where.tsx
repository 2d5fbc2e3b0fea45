import type { JSX } from "preact";
import { DAY_MS } from "../../ground/units.js";
import type { Fleet, WorkOrder } from "../../result/fleet.js";
import { HATCH_ID } from "../charts/theme.js";
import { rowsAt, whole } from "../traced.js";
import { Datum } from "./datum.js";
import { ModeMark, modeWords } from "./mode-mark.js";
import { Name } from "./name.js";

/** More sites than this have columns too narrow to see a day in: those with most on the list are drawn. */
const MOST_SITES = 12;
const LANE_PX = 12;
/** Days between two columns. */
const GAP_DAYS = 3;
const round = (value: number): number => Math.round(value * 100) / 100;

/** A site's month: its first local day as a day of the calendar, and how many days. */
interface Month {
  readonly from: number;
  readonly days: number;
}

/**
 * Which way of failing struck which site, and when: a row a way, a column a site, and in it a bar a listed place from its first day to its last. Where all
 * bars of a row begin on one day, it was no single sensor.
 */
export function FleetWhere({ fleet }: { fleet: Fleet }): JSX.Element | null {
  const open = fleet.orders.filter(({ state, site, lastSeen }) => state !== "mended" && site !== "" && lastSeen !== "");
  const listed = sitesOf(open);
  if (listed.length < 2) return null;
  const sites = listed.slice(0, MOST_SITES);
  const months = sites.map((site) => monthOf(fleet, open, site));
  const wide = Math.max(...months.map(({ days }) => days)) + GAP_DAYS;
  const [most = "", next = ""] = listed;
  const leads = open.filter(({ site }) => site === most).length > open.filter(({ site }) => site === next).length;
  const drawn = open.filter(({ site }) => sites.includes(site));
  return (
    <section class="rule" id="where">
      <h2>Where and when</h2>
      <p class="lead">
        {leads ? <><Name of={most} /> has most of the list. </> : null}A bar a place, from its first day to its last; a column a site.
        {listed.length > sites.length ? " Sites with less on the list are not drawn; all of it stands in work-orders.csv." : ""}
      </p>
      <div class="where-row where-heads" aria-hidden="true">
        <span />
        <p>{sites.map((site) => <span><Name of={site} /></span>)}</p>
      </div>
      {rowsAt(whole(fleet), "modes").map((row) => {
        const own = drawn.filter(({ mode }) => mode === row.of.mode);
        if (own.length === 0) return null;
        const bySite = sites.map((site) => own.filter((one) => one.site === site));
        const lanes = Math.max(...bySite.map((orders) => orders.length));
        return (
          <div class="where-row">
            <p>
              <ModeMark mode={row.of.mode} /> {modeWords[row.of.mode]} <small>{row.of.nightsLost === 0 ? "no day lost" : <><Datum at={row} path="nightsLost" as="count" /> {row.of.nightsLost === 1 ? "day" : "days"} lost</>}</small>
            </p>
            <svg width="100%" height={lanes * LANE_PX + 4} viewBox={`0 0 ${wide * sites.length} ${lanes * LANE_PX + 4}`} preserveAspectRatio="none" role="img" aria-label={own.map(whenText).join("; ")}>
              <path class="frame" vector-effect="non-scaling-stroke" d={sites.map((_, i) => `M${i * wide} 0V${lanes * LANE_PX + 4}`).join("")} />
              {bySite.map((orders, i) => orders.map((order, lane) => <path class={order.kind} {...(order.kind === "export" ? { fill: `url(#${HATCH_ID})` } : {})} vector-effect="non-scaling-stroke" d={barOf(order, months[i], i * wide, lane)}><title>{whenText(order)}</title></path>))}
            </svg>
          </div>
        );
      })}
    </section>
  );
}

/** Those with most orders first. */
function sitesOf(orders: readonly WorkOrder[]): string[] {
  const counts = new Map<string, number>();
  for (const { site } of orders) counts.set(site, (counts.get(site) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([site]) => site);
}

function monthOf({ parts }: Pick<Fleet, "parts">, orders: readonly WorkOrder[], site: string): Month {
  const months = new Set(orders.filter((one) => one.site === site).map(({ month }) => month));
  const part = parts.findLast((one) => one.site === site && months.has(one.period.label)) ?? parts.findLast((one) => one.site === site);
  // Local midnight lies within half a day of that of UTC, in nearly all zones: the nearest day of the calendar.
  return part === undefined ? { from: 0, days: 1 } : { from: Math.round(part.period.from / DAY_MS), days: Math.max(1, Math.round(part.period.days)) };
}

function barOf({ firstSeen, lastSeen }: WorkOrder, month: Month | undefined, left: number, lane: number): string {
  if (month === undefined) return "";
  const day = (text: string): number => Math.min(month.days - 1, Math.max(0, Math.round(Date.parse(`${text}T00:00:00Z`) / DAY_MS) - month.from));
  const [first, last] = [day(firstSeen), day(lastSeen)];
  return `M${round(left + first)} ${lane * LANE_PX + 3}h${Math.max(1, last - first + 1)}v${LANE_PX - 4}h${-Math.max(1, last - first + 1)}z`;
}

function whenText({ site, place, firstSeen, lastSeen }: WorkOrder): string {
  return `${site}, ${place}: ${firstSeen === lastSeen ? firstSeen : `${firstSeen} to ${lastSeen}`}`;
}
