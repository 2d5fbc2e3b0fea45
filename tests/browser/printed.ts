import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** A run of text on paper; points from the left edge. */
export interface PrintedText {
  readonly text: string;
  readonly left: number;
  readonly right: number;
}

/** A table as far as it stands on one page: its rows in order, each as its text without spaces; empty where a row stands on another page. */
export type PrintedTable = readonly string[];

/** One page of a PDF. Points; sheets are upright. */
export interface PrintedPage {
  readonly width: number;
  readonly texts: readonly PrintedText[];
  readonly tables: readonly PrintedTable[];
}

interface Node {
  readonly role?: string;
  readonly id?: string;
  readonly type?: string;
  readonly children?: readonly Node[];
}

/** Text without what a line break can change. */
export function spaceless(text: string): string {
  return text.replace(/[\s\u00ad\u200b]+/g, "");
}

/**
 * Reads a tagged PDF: its texts with their places, and its tables by the tags Chromium gives their rows. A repeated head is
 * tagged on every page it is printed on.
 */
export async function printedPages(pdf: Uint8Array): Promise<PrintedPage[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const pages: PrintedPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent({ includeMarkedContent: true });
    const byTag = new Map<string, string>();
    const texts: PrintedText[] = [];
    const open: (string | null)[] = [];
    for (const item of items) {
      if ("str" in item) {
        const left = item.transform[4] as number;
        if (item.str.trim() !== "") texts.push({ text: item.str, left, right: left + item.width });
        const tag = open.findLast((one) => one !== null) ?? null;
        if (tag !== null) byTag.set(tag, (byTag.get(tag) ?? "") + item.str);
      } else if (item.type === "endMarkedContent") open.pop();
      else open.push(item.id === "" ? null : item.id);
    }
    const textOf = (node: Node): string => (node.type === "content" ? spaceless(byTag.get(node.id ?? "") ?? "") : (node.children ?? []).map(textOf).join(""));
    const all = (node: Node, role: string): Node[] => (node.role === role ? [node] : (node.children ?? []).flatMap((child) => all(child, role)));
    const tree = (await page.getStructTree()) as Node | null;
    const tables = tree === null ? [] : all(tree, "Table").map((table) => all(table, "TR").map(textOf));
    pages.push({ width: page.view[2] ?? 0, texts, tables: tables.filter((rows) => rows.some((row) => row !== "")) });
  }
  await document.destroy();
  return pages;
}
