import type { JSX } from "preact";
import type { Fleet } from "../../result/fleet-schema.js";
import { controlledBays } from "../charts/fleet-control.js";
import type { Drawing } from "../drawings.js";
import { Chart } from "./chart.js";
import { Datum } from "./datum.js";

/** All bays against what is expected of each, with a caption that says in words what there is to see. */
export function FleetPicture({ bays, chart }: Pick<Fleet, "bays"> & { chart: Drawing }): JSX.Element {
  const compared = bays.filter(({ faults }) => faults.expected !== null).length;
  const out = bays.filter(({ faults }) => faults.standsOut).length;
  return (
    <figure>
      <figcaption id="bays-caption">
        Faults of each bay: dot what was counted, dashed line what its fellows lead one to expect of its own turns and time, band its control limits. Bays of which more is expected stand further right. A dot outside the band may be there by chance, since many are compared.{" "}
        {out === 0 ? (
          "None stands out by its faults."
        ) : (
          <>
            <Datum of={bays} from="bays" as="faults standing out" /> {out === 1 ? "stands out by its faults and is a diamond, with its name" : "stand out by their faults and are diamonds, with their names"} where there is room.
          </>
        )}
        {compared < bays.length ? " Bays that cannot be compared are not shown." : ""}
        {controlledBays(bays).length < compared ? " Of those that do not stand out an even choice is shown." : ""} The numbers stand in the table below and in bays.csv.
      </figcaption>
      <Chart drawing={chart} labelledBy="bays-caption" />
    </figure>
  );
}
