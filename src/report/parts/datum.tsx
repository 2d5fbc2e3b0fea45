import type { JSX } from "preact";
import { plainNumber, type WriterName, writers, type Written } from "../writers.js";

/** So many significant digits of the plain number stand in the page: enough to sort by; findings.json has them all. */
const PLAIN_DIGITS = 6;

interface Properties<Name extends WriterName> {
  /** Where the number stands in findings.json (fleet.json on the fleet page), `signals.3.knownShare`; a `*` stands for every entry of a list. */
  readonly from: string;
  /** How it is written; see writers.ts. */
  readonly as: Name;
  readonly of: Written<Name>;
}

/** A number of the findings as the page shows it, with where it came from. */
export function Datum<Name extends WriterName>({ from, as, of }: Properties<Name>): JSX.Element {
  const write = writers[as] as (value: Written<Name>) => string;
  return (
    <data value={plainText(of, as)} data-from={from} data-as={as}>
      {write(of)}
    </data>
  );
}

/** The plain number behind a datum as its `value`; empty where there is none. */
export function plainText(of: unknown, as: WriterName): string {
  const plain = plainNumber(of, as);
  return plain === null ? "" : String(Number(plain.toPrecision(PLAIN_DIGITS)));
}
