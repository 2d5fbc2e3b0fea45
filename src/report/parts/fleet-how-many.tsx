import type { JSX } from "preact";
import { Datum } from "./datum.js";

/** `1 bay`, `8 bays`: how many a list of fleet.json holds, with where the list stands. */
export function HowMany({ of, from, one }: { of: readonly unknown[]; from: string; one: string }): JSX.Element {
  return (
    <>
      <Datum of={of} from={from} as="size" /> {of.length === 1 ? one : `${one}s`}
    </>
  );
}
