/** A function of one value that is worked out once for each; for values of which few differ. */
export function remembered<Value, Result>(work: (value: Value) => Result): (value: Value) => Result {
  const known = new Map<Value, Result>();
  return (value) => {
    const found = known.get(value);
    if (found !== undefined || known.has(value)) return found as Result;
    const result = work(value);
    known.set(value, result);
    return result;
  };
}
