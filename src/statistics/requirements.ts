/** @throws RangeError unless the confidence lies strictly between 0 and 1. */
export function requireConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`A confidence lies between 0 and 1, not ${confidence}.`);
}

/** @throws RangeError unless `value` is a whole number of 0 or more; `what` names it in the message. */
export function requireCount(value: number, what: string): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) throw new RangeError(`${what} must be a whole number of 0 or more, not ${value}.`);
}

/** @throws RangeError unless `value` is a finite number of 0 or more; `what` names it in the message. */
export function requireAmount(value: number, what: string): void {
  if (!(Number.isFinite(value) && value >= 0)) throw new RangeError(`${what} must be a finite number of 0 or more, not ${value}.`);
}

/** @throws RangeError unless `value` lies in [0, 1]; `what` names it in the message. */
export function requireShare(value: number, what: string): void {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`${what} lies in 0 to 1, not ${value}.`);
}
