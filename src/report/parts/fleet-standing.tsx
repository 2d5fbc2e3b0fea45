import type { JSX } from "preact";
import type { FleetStanding } from "../../result/fleet-schema.js";
import { Datum } from "./datum.js";
import { Mark } from "./mark.js";

interface Properties {
  readonly of: FleetStanding;
  /** Where the standing stands in fleet.json, `bays.3.faults`. */
  readonly from: string;
}

/** Both measures of one unit of a fleet. */
export interface Compared {
  readonly faults: FleetStanding;
  readonly silences: FleetStanding;
}

/** What was counted. */
export function Counted({ of, from }: Properties): JSX.Element {
  return <Datum of={of.count} from={`${from}.count`} as="count" />;
}

/** What its fellows lead one to expect, or "none". */
export function Expected({ of: { expected }, from }: Properties): JSX.Element {
  return expected === null ? <>none</> : <Datum of={expected} from={`${from}.expected`} as="amount" />;
}

/** Its control limits, or "none". */
export function Limits({ of: { controlLow, controlHigh }, from }: Properties): JSX.Element {
  if (controlLow === null || controlHigh === null) return <>none</>;
  return (
    <>
      <Datum of={controlLow} from={`${from}.controlLow`} as="count" />–<Datum of={controlHigh} from={`${from}.controlHigh`} as="count" />
    </>
  );
}

/** Its partly pooled ratio with the interval, or "none". */
export function Ratio({ of: { pooledRatio, pooledLow, pooledHigh }, from }: Properties): JSX.Element {
  if (pooledRatio === null || pooledLow === null || pooledHigh === null) return <>none</>;
  return (
    <>
      <Datum of={pooledRatio} from={`${from}.pooledRatio`} as="ratio" /> (<Datum of={pooledLow} from={`${from}.pooledLow`} as="ratio" />–<Datum of={pooledHigh} from={`${from}.pooledHigh`} as="ratio" />)
    </>
  );
}

/** In what it stands out; "no", or "not compared". */
export function StandsOut({ faults, silences }: Compared): JSX.Element {
  const nouns = [faults.standsOut ? "faults" : null, silences.standsOut ? "silences" : null].filter((noun) => noun !== null);
  if (nouns.length > 0) {
    return (
      <strong class="effect breaks">
        <Mark sense="breaks" /> {nouns.join(" and ")}
      </strong>
    );
  }
  return <>{faults.expected === null && silences.expected === null ? "not compared" : "no"}</>;
}

/** Whether it stands out in either measure. */
export function standsOut({ faults, silences }: Compared): boolean {
  return faults.standsOut || silences.standsOut;
}
