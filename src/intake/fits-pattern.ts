/**
 * Whether a path fits a pattern of `*` (any part of a name), `**` (any folders) and `?` (any one sign). Takes as long as the two lengths
 * multiplied and no longer, whatever they are: a regular expression for `*a*a*a*…` would take for ever.
 */
export function fitsPattern(name: string, pattern: string): boolean {
  const tokens = tokensOf(pattern);
  let here = withSkipped(tokens, [0]);
  for (const sign of name) {
    const next = new Set<number>();
    for (const at of here) step(tokens, at, sign, next);
    here = withSkipped(tokens, next);
    if (here.size === 0) return false;
  }
  return here.has(tokens.length);
}

/** `**` with a slash behind it is two tokens: at the beginning of a folder's name, and within it. */
type Token = { readonly is: "part" | "anything" | "one" | "folder" | "in folder" } | { readonly is: "sign"; readonly sign: string };

function tokensOf(pattern: string): Token[] {
  return [...pattern.matchAll(/\*\*\/|\*\*|\*|\?|[^*?]/gsu)].flatMap(([text]): Token[] => {
    switch (text) {
      case "**/":
        return [{ is: "folder" }, { is: "in folder" }];
      case "**":
        return [{ is: "anything" }];
      case "*":
        return [{ is: "part" }];
      case "?":
        return [{ is: "one" }];
      default:
        return [{ is: "sign", sign: text }];
    }
  });
}

function step(tokens: readonly Token[], at: number, sign: string, next: Set<number>): void {
  const token = tokens[at];
  if (token === undefined) return;
  if (token.is === "anything" || (token.is === "part" && sign !== "/")) next.add(at);
  else if (token.is === "folder") next.add(sign === "/" ? at : at + 1);
  else if (token.is === "in folder") next.add(sign === "/" ? at - 1 : at);
  else if ((token.is === "one" && sign !== "/") || (token.is === "sign" && token.sign === sign)) next.add(at + 1);
}

/** The places, with those that follow what may stand for nothing. */
function withSkipped(tokens: readonly Token[], places: Iterable<number>): Set<number> {
  const all = new Set<number>();
  for (let at of places) {
    for (;;) {
      if (all.has(at)) break;
      all.add(at);
      const token = tokens[at];
      if (token?.is === "part" || token?.is === "anything") at++;
      else if (token?.is === "folder") at += 2;
      else break;
    }
  }
  return all;
}
