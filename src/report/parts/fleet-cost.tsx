import type { JSX } from "preact";
import type { Fleet } from "../../result/fleet.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Name } from "./name.js";

/** Sites and rules drawn; of more, those that lost most days are. */
const MOST_ROWS = 40;

type Night = Fleet["nights"][number]["days"][number];
type Look = "served" | "unjudged" | "place" | "make" | "slip" | "nobody";

const words: Readonly<Record<Look, string>> = {
  served: "as wanted", unjudged: "an export falls short", place: "a listed place", make: "a make", slip: "a single slip", nobody: "no sensor’s fault",
};

/** What each day came to, rule by rule: a mark a day. */
export function FleetCost({ fleet }: { fleet: Fleet }): JSX.Element | null {
  if (fleet.nights.every(({ days }) => days.length === 0)) return null;
  const kinds = new Map(fleet.orders.map(({ key, kind }) => [key, kind]));
  const lookOf = ({ outcome, orders, signals }: Night): Look => {
    if (outcome === "served" || outcome === "unjudged") return outcome;
    if (orders.length > 0) return orders.some((key) => kinds.get(key) === "place") ? "place" : "make";
    return signals.length > 0 ? "slip" : "nobody";
  };
  const lost = ({ days }: Fleet["nights"][number]): number => days.filter(({ outcome }) => outcome !== "served").length;
  const rows = fleet.nights.filter(({ days }) => days.length > 0).toSorted((a, b) => lost(b) - lost(a)).slice(0, MOST_ROWS);
  return (
    <>
      {fleet.say.cost.map((text) => <p class="lead">{text}</p>)}
      <p class="cap">{(Object.keys(words) as Look[]).map((look) => <span class="night-key"><NightMark look={look} /> {words[look]}</span>)}</p>
      {rows.map(({ site, rule, days }) => (
        <div class="night-row">
          <p><b><Name of={site} /></b> <small><Name of={rule} /></small></p>
          <p class="night-marks">{days.map((night) => <span title={`${night.day}: ${words[lookOf(night)]}`}><NightMark look={lookOf(night)} /></span>)}</p>
        </div>
      ))}
    </>
  );
}

function NightMark({ look }: { look: Look }): JSX.Element {
  return (
    <svg class={`night-mark ${look}`} width="11" height="11" viewBox="0 0 11 11" aria-hidden="true">
      {look === "unjudged" ? <rect x="1.500" y="1.500" width="8" height="8" /> : <circle cx="5.500" cy="5.500" r={look === "served" ? 1.8 : 4} />}
      {look === "make" ? <path d="M5.500 1.500A4 4 0 0 1 5.500 9.500Z" /> : look === "place" ? <path d="M2 2L9 9M9 2L2 9" /> : null}
    </svg>
  );
}

/** Which way of failing costs most. */
export function FleetModes({ fleet }: { fleet: Fleet }): JSX.Element {
  return (
    <DataTable
      id="modes-table"
      caption="Ways of failing, those that cost most days first"
      rows={rowsAt(whole(fleet), "modes")}
      columns={[
        { head: "Way of failing", path: "mode", as: "text", look: "prose" },
        { head: "Places", path: "places", as: "count" },
        { head: "Days lost", path: "nightsLost", as: "count" },
        { head: "Wrong", path: "wrong", as: "count" },
        { head: "Hours silent", path: "silentHours", as: "amount" },
      ]}
    />
  );
}

/** How often each make fails, and what to keep in store. */
export function FleetReliability({ fleet }: { fleet: Fleet }): JSX.Element {
  return (
    <DataTable
      id="reliability-table"
      caption="Time between failures, by model and firmware, over all months at hand"
      rows={rowsAt(whole(fleet), "reliability")}
      columns={[
        { head: "Model", path: "model", as: "name" },
        { head: "Firmware", path: "firmware", as: "name" },
        { head: "Sensors", path: "sensors", as: "count" },
        { head: "Sensor days", path: "sensorDays", as: "count" },
        { head: "Failures", path: "failures", as: "count" },
        { head: "Days between", path: "daysBetween.value", as: "count" },
        { head: "at least", path: "daysBetween.low", as: "count" },
        { head: "Months to mend", path: "monthsToMend", as: "amount" },
        { head: "Available", path: "availability", as: "share" },
        { head: "Spares for a month", path: "spares", as: "count" },
      ]}
    />
  );
}
