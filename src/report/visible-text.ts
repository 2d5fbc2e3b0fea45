const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

/**
 * Text as it is, with what cannot be seen made visible: control characters, bidirectional overrides, zero-width
 * spaces and half surrogate pairs become `‹U+202E›`. Otherwise a name could turn the rest of a line around, or pass
 * for another name. The zero-width joiner stays: emoji are made with it. Line breaks and tabs become spaces.
 */
function visibleText(text: string): string {
  return text
    .replace(/[\t\n\r]+/g, " ")
    .replace(/[\p{Cc}\p{Surrogate}\u00ad\u061c\u180e\u200b\u200c\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff]/gu, codePointText);
}

function codePointText(character: string): string {
  return `‹U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}›`;
}

/**
 * A copy of plain data in which every text went through {@link visibleText}: done once, before anything is drawn,
 * so that no part of the report can forget it.
 */
export function withVisibleText<Data>(data: Data): Data {
  return visibleCopy(data) as Data;
}

function visibleCopy(data: unknown): unknown {
  if (typeof data === "string") return visibleText(data);
  if (Array.isArray(data)) return data.map(visibleCopy);
  if (typeof data !== "object" || data === null) return data;
  return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, visibleCopy(value)]));
}

/** At most `limit` characters as a reader counts them (an emoji is one); a cut is shown by "…". */
export function shortened(text: string, limit: number): string {
  if (text.length <= limit) return text;
  const kept: string[] = [];
  for (const { segment } of graphemes.segment(text)) {
    if (kept.length === limit) return `${kept.slice(0, limit - 1).join("")}…`;
    kept.push(segment);
  }
  return text;
}
