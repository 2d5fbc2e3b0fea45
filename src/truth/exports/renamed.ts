import { closestName } from "../../site/closest-name.js";

/** Something of which nothing is heard any more; `never`: at no time. */
interface Unheard {
  readonly channel: string;
  readonly never: boolean;
}

/**
 * Which unheard channel came under which unknown name: names that differ in case, signs or leading zeros first (`o9`
 * and `o09`); then, of channels never heard at all, the closest spelling; then the only one left with the only name
 * left. A name is used once.
 */
export function renamedTo<One extends Unheard>(unheard: readonly One[], names: readonly string[]): { readonly of: One; readonly name: string }[] {
  const free = new Set(names);
  const found: { of: One; name: string }[] = [];
  const take = (of: One, name: string | null | undefined): void => {
    if (name === null || name === undefined || found.some((one) => one.of === of)) return;
    free.delete(name);
    found.push({ of, name });
  };
  for (const one of unheard) take(one, [...free].find((name) => plain(name) === plain(one.channel)));
  const open = (): One[] => unheard.filter((one) => one.never && !found.some(({ of }) => of === one));
  for (const one of open()) take(one, closestName(one.channel, free));
  const [last, ...others] = open();
  if (last !== undefined && others.length === 0 && free.size === 1) take(last, [...free][0]);
  return found;
}

function plain(name: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "").replace(/(?<!\p{N})0+(?=\p{N})/gu, "");
}
