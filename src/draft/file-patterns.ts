/**
 * The paths of a source as the site file gives them. Names that differ only in their digits (dates, numbers) become one
 * pattern with a `*`, so that next month's file is read too, unless the pattern would take in a file of another source.
 */
export function filePatterns(names: readonly string[], others: readonly string[]): string[] {
  const groups = new Map<string, string[]>();
  for (const name of names) {
    const slash = name.lastIndexOf("/") + 1;
    const key = name.slice(0, slash) + name.slice(slash).replace(/\d+(?:[-_.]?\d+)*/g, "*");
    groups.set(key, [...(groups.get(key) ?? []), name]);
  }
  return [...groups].flatMap(([pattern, members]) => {
    const plain = !/[?[\]{}()!+@\\]/.test(pattern) && pattern.split("*").length === 2;
    return members.length > 1 && plain && !others.some((other) => fits(other, pattern)) ? [pattern] : members;
  });
}

function fits(name: string, pattern: string): boolean {
  const [start = "", end = ""] = pattern.split("*");
  return (
    name.length >= start.length + end.length &&
    name.startsWith(start) &&
    name.endsWith(end) &&
    !name.slice(start.length, name.length - end.length).includes("/")
  );
}
