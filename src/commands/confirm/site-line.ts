import { isDeepStrictEqual } from "node:util";
import { InputError } from "../../ground/problem.js";
import { readYaml, type Written } from "../../site/yaml-text.js";

/** The line of a site file that names its diary. */
export function diaryLine(file: string): string {
  return `diary: { files: ${file} }`;
}

/**
 * The text of a site file with a line more, at its end, that names the diary; all that stood there stays as it is. Null where such
 * a line would change what the file means, or would not be read: read again, the new text must say what the old one said, and
 * name the diary besides.
 */
export function withDiaryLine(text: string, file: string): string | null {
  const lineEnd = /\r\n|\n/.exec(text)?.[0] ?? "\n";
  const longer = `${text}${/\n$/.test(text) ? "" : lineEnd}${diaryLine(file)}${lineEnd}`;
  const [before, after] = [mappingOf(text), mappingOf(longer)];
  if (before === null || after === null) return null;
  return isDeepStrictEqual(after, { ...before, diary: { files: file } }) && !("diary" in before) ? longer : null;
}

function mappingOf(text: string): Readonly<Record<string, Written>> | null {
  try {
    const { value, problems } = readYaml(text, "site file");
    return problems.length > 0 || value === null || typeof value !== "object" || Array.isArray(value) ? null : (value as Readonly<Record<string, Written>>);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
