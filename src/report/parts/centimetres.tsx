import type { JSX } from "preact";
import { Datum } from "./datum.js";

/** A length of the findings, which are in metres, in centimetres; without its unit. */
export function Centimetres({ of, from }: { of: number; from: string }): JSX.Element {
  return <Datum of={of} from={from} as="centimetres" />;
}
