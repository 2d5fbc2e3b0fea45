import { type ComponentChildren, createContext, type JSX } from "preact";
import { useContext } from "preact/hooks";
import { type Figure, figureText, inPerCent } from "../format.js";
import { joined, type PathTo, type Traced, valueAt } from "../traced.js";
import { plainNumber, type WriterName, writers, type Written } from "../writers.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";

/** Significant digits of the plain number in the page: enough to sort by; findings.json has them all. */
const PLAIN_DIGITS = 6;

/** What is written without being a number. */
interface Words {
  readonly name: string;
  readonly names: readonly string[];
  readonly text: string;
  /** Epoch ms. */
  readonly time: number;
  readonly "yes or no": boolean;
}

/** Every way in which a page writes a value: the numbers of writers.ts, and words. */
export type Way = WriterName | keyof Words;
/** What each way takes. */
export type WrittenBy<As extends Way> = As extends WriterName ? Written<As> : As extends keyof Words ? Words[As] : never;

interface Properties<Of, As extends Way> {
  readonly at: Traced<Of>;
  /** Where the value stands below `at`; with a `*` the values of every entry of a list, which no type checks. */
  readonly path: PathTo<Of, WrittenBy<As>> | `${string}.*.${string}`;
  readonly as: As;
  /** What stands where there is no value. */
  readonly none?: string;
}

/** A value of the result as the page shows it; a number carries where it came from. */
export function Datum<Of, As extends Way>({ at, path, as, none }: Properties<Of, As>): JSX.Element {
  return writtenValue(at, path, as, none);
}

/** As {@link Datum}, for a path and a way that are known only when the page is made. */
export function writtenValue(at: Traced<unknown>, path: string, as: Way, none: ComponentChildren = "none"): JSX.Element {
  const value = valueAt(at.of, path) ?? null;
  if (value === null) return <>{none}</>;
  if (as === "name") return <Name of={value as string} />;
  if (as === "names") return <Names of={value as readonly string[]} />;
  if (as === "time") return <LocalTime at={value as number} />;
  if (as === "text") return <>{value}</>;
  if (as === "yes or no") return <>{value === true ? "yes" : "no"}</>;
  return <WrittenNumber of={value} from={joined(at.from, path)} as={as} />;
}

/** Where the row of a table comes from: its numbers say only where they stand below it. Empty outside such a row. */
export const RowOrigin = createContext("");

/** A number with where it came from (below the row's `data-of` where it begins with a dot), and how it is written: as a count where it does not say so. */
function WrittenNumber({ of: value, from, as }: { of: unknown; from: string; as: WriterName }): JSX.Element {
  const row = useContext(RowOrigin);
  const isFigure = as === "figure" || as === "figure without unit" || as === "figure in per cent";
  const write = writers[as] as (value: unknown) => string;
  return (
    <data
      {...(isFigure ? { class: "figure-text" } : {})}
      value={plainText(value, as)}
      data-from={row !== "" && from.startsWith(`${row}.`) ? from.slice(row.length) : from}
      {...(as === "count" ? {} : { "data-as": as })}
    >
      {isFigure ? (
        <FigureParts
          of={as === "figure in per cent" ? inPerCent(value as Figure) : (value as Figure)}
          bare={as === "figure without unit"}
        />
      ) : (
        write(value)
      )}
    </data>
  );
}

/** The plain number behind a value, for machines; empty where there is none. */
function plainText(of: unknown, as: WriterName): string {
  const plain = plainNumber(of, as);
  return plain === null ? "" : String(Number(plain.toPrecision(PLAIN_DIGITS)));
}

/**
 * A figure as it stands in tables: the value, and under it the interval and the count; or why there is no value.
 * Its text is what `figureLine` writes; `bare` leaves the unit to the head of the column.
 */
function FigureParts({ of, bare }: { of: Figure; bare: boolean }): JSX.Element {
  const { value, interval, count, unit, why } = figureText(bare ? { ...of, unit: "" } : of);
  if (value === null) {
    return (
      <>
        <span class="none">no value:</span>{" "}
        <small>
          {why}, {count}
        </small>
      </>
    );
  }
  return (
    <>
      <b>
        {value}
        {unit}
      </b>{" "}
      <small {...(/[a-z]/.test(interval ?? "") ? { class: "loose" } : {})}>({interval}), </small>
      <small>
        {count}
        {why === null ? "" : `; ${why}`}
      </small>
    </>
  );
}
