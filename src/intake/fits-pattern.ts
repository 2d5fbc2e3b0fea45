/** Whether a path fits a pattern of `*` (any part of a name), `**` (any folders) and `?` (any one sign). */
export function fitsPattern(name: string, pattern: string): boolean {
  const source = pattern.replace(/[.+^$|()[\]{}\\]/g, "\\$&").replace(/\*\*\/|\*\*|\*|\?/g, (sign) => {
    if (sign === "**/") return "(?:[^/]*/)*";
    if (sign === "**") return ".*";
    return sign === "*" ? "[^/]*" : "[^/]";
  });
  return new RegExp(`^${source}$`, "su").test(name);
}
