/**
 * A value that the scenario's own checks guarantee. Throws `RangeError` where it is missing: a fault of the program, not
 * of the scenario. `what` names it in the message.
 */
export function required<Value>(value: Value | undefined, what: string): Value {
  if (value === undefined) throw new RangeError(`The simulation lacks ${what}.`);
  return value;
}
