/**
 * What a map holds under a key that it must have.
 * @throws RangeError when it has no such key: a mistake in the program, not in what was read.
 */
export function lookUp<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): Value {
  const value = map.get(key);
  if (value === undefined) throw new RangeError(`There is no ${String(key)}.`);
  return value;
}
