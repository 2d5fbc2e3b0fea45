import { readdirSync, readFileSync } from "node:fs";

/** Every page of the documentation, as paths from the top of the repository. */
export const pages: readonly string[] = ["README.md", "DEVELOPERS.md", "sample-data/README.md", "reports/README.md", ...readdirSync("docs").filter((name) => name.endsWith(".md")).map((name) => `docs/${name}`)];

/** The text of a page. */
export const pageText = (page: string): string => readFileSync(page, "utf8");

/** A fenced block of a page: the word after the fence (empty where there is none), and what stands in it. */
export interface Block {
  readonly language: string;
  readonly text: string;
}

/**
 * What a page tells its reader to run.
 * `line`: one command line, from a `sh` block or from a code span in the prose.
 * `script`: a whole `sh` block that begins with `#!`.
 * `manifest`: a whole `yaml` block in which a command of ours stands for another program to start.
 */
export interface PageCommand {
  readonly form: "line" | "script" | "manifest";
  readonly text: string;
}

/** All fenced blocks, in order. */
export const blocksOf = (text: string): Block[] => [...text.matchAll(/^```(\S*)[^\n]*\n([\s\S]*?)^```$/gm)].map(([, language = "", inside = ""]) => ({ language, text: inside }));

/** The page without its fenced blocks. */
export const proseOf = (text: string): string => text.replace(/^```[\s\S]*?^```$/gm, "");

/** Code spans of the prose, line breaks in them made blanks. */
export const spansOf = (text: string): string[] => [...proseOf(text).matchAll(/(?<!`)(`+)(?!`)((?:(?!\n\s*\n)[\s\S])+?)(?<!`)\1(?!`)/g)].map((match) => (match[2] ?? "").replace(/\s+/g, " ").trim());

/** What a command line begins with here: one of these programs, or a script of ours by its path. */
const begins = /^(?:\w+=\S* )*(?:(?:keyworthy|npx|npm|node|sbatch|bash|sh|kubectl|docker) |(?:\.\/)?(?:\.ci|tests|\.build)\/(?:[\w.-]+\/)*(?:run|[\w-]+\.(?:sh|js))\b)/;

/** `keyworthy simulate` and the like, with nothing after: the name of a command, not something to type. */
const isName = (text: string): boolean => /^(?:npx )?keyworthy \w+$/.test(text);

/** Everything a page tells its reader to run, once each, in the order of the page's blocks and then of its prose. */
export function commandsOf(text: string): PageCommand[] {
  const found: PageCommand[] = [];
  for (const block of blocksOf(text)) {
    if (block.language === "sh" && block.text.startsWith("#!")) found.push({ form: "script", text: block.text });
    else if (block.language === "sh") found.push(...linesOf(block.text));
    else if (block.language === "yaml" && /\bkeyworthy (?:audit|check|combine|confirm|draft|explain|propose|simulate|thin)\b/.test(block.text)) found.push({ form: "manifest", text: block.text });
  }
  for (const span of spansOf(text)) if (begins.test(span) && !isName(span)) found.push({ form: "line", text: span });
  return found.filter((one, i) => found.findIndex((other) => other.text === one.text) === i);
}

/** The names of commands that a page speaks of without anything to type: `simulate` of `keyworthy simulate`. */
export const namesOf = (text: string): string[] => spansOf(text).filter(isName).map((span) => span.split(" ").at(-1)!);

/** A block whose lines may not be commands: a picture, an output, a file. True if one looks like one all the same. */
export const hidesCommand = (block: Block): boolean => !["sh", "yaml"].includes(block.language) && block.text.split("\n").some((line) => begins.test(line.trim().replace(/^\$ /, "")));

function linesOf(script: string): PageCommand[] {
  return script
    .replace(/\\\n\s*/g, "")
    .split("\n")
    .map((line) => line.trim().replace(/^\$ /, "").replace(/\s+#.*$/, ""))
    .filter((line) => line !== "" && !line.startsWith("#"))
    .map((text) => ({ form: "line", text }));
}
