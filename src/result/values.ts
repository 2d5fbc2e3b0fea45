import { z } from "zod";
import { isTimeZone } from "../ground/time-zone.js";

/** An instant: epoch milliseconds in memory; in JSON text in UTC, ISO 8601, to the millisecond. */
export const instant = z.codec(z.iso.datetime().describe("UTC, ISO 8601, milliseconds"), z.number(), {
  decode: Date.parse,
  encode: isoText,
});

/** The name of a time zone that this machine knows: without it no instant can be told in local time. */
export const timeZone = z.string().refine(isTimeZone, "Expected a time zone, such as Europe/London");

/** Far more than anything measured: sums of more would be no numbers any more, and nothing could be written of them. */
const MOST = 1e15;

/** A measured number of whatever unit. */
export const quantity = z.number().min(-MOST).max(MOST);

/** A measured number that is not negative. */
export const amount = z.number().min(0).max(MOST);

/** How sure the bounds are. */
export const confidence = z.number().gt(0).lt(1);

/** A part of a whole. */
export const share = z.number().min(0).max(1);

/** What a signal, a reference or a rule says at some time, in a word. */
export const stateWord = z.enum(["on", "off", "unknown"]);

/** The classes of subjects. */
export const subjectClass = z.enum(["bay", "door", "person"]);

/** What a rule does. */
export const act = z.enum(["unlock", "lock", "disarm", "arm"]);

/** Who vouches for what is held true: a diary, several independent witnesses, one witness, nobody. */
export const basis = z.enum(["diary", "several", "one", "none"]);

/** The three verdicts. */
export const verdict = z.enum(["clear to enable", "not proven yet", "do not enable"]);

/** The type of what a schema describes, as it is in memory: never changed once made. */
export type Shape<Schema extends z.ZodType> = Frozen<z.output<Schema>>;

type Frozen<Value> = Value extends object ? { readonly [Key in keyof Value]: Frozen<Value[Key]> } : Value;

/** An instant (epoch milliseconds) as JSON has it. */
export function isoText(instantMs: number): string {
  return new Date(Math.round(instantMs)).toISOString();
}
