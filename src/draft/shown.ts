/** A text of an export as it may stand in a comment or on a terminal: quoted, short, no character that could break out. */
export function shown(text: string): string {
  const cut = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return `"${cut.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, "?").replaceAll('"', "'")}"`;
}

/** A count with thousands separators. */
export function counted(count: number): string {
  return count.toLocaleString("en");
}
