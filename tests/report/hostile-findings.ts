import type { Findings } from "../../src/result/findings.js";

/** Names that a careless page would run, be restyled by, be turned around by, or burst under. */
export const hostileNames: Readonly<Record<string, string>> = {
  script: "<script>alert(1)</script>",
  "closing style": "</style><script>alert(2)</script>",
  image: '"><img src=x onerror=alert(3)>',
  "single quotes": "' onmouseover='alert(4)' x='",
  comment: "<!-- ]]> -->",
  entity: "&lt;b&gt;&amp;#60;",
  "right-to-left override": "\u202egnp.yadnom\u202c",
  "zero-width": "bay\u200b-1\u2060",
  "half a surrogate pair": "bay \ud83d",
  emoji: "🚗 👩🏽‍🔧 🏳️‍🌈",
  arabic: "موقف ١",
  "500 characters": "x".repeat(500),
  "500 spaced characters": "far too long ".repeat(39).slice(0, 500),
};

/** Keys of the findings whose texts come from files that people write. Ids are among them, and keep fitting together. */
const written = new Set(
  "name signal signals subject subjects anchorSubject witnesses vouchers source file reason model shares sharedCauses cause causes bay vehicle id firing sentence text condition rightWhen why label notes by commonShareBecause noSharedHoursBecause".split(" "),
);

/** The findings with something added to every text that people write. */
export function withNames(findings: Findings, added: string): Findings {
  return renamed(findings, "", (text) => `${text}${added}`) as Findings;
}

function renamed(data: unknown, key: string, rename: (text: string) => string): unknown {
  if (typeof data === "string") return written.has(key) ? rename(data) : data;
  if (Array.isArray(data)) return data.map((one) => renamed(one, key, rename));
  if (typeof data !== "object" || data === null) return data;
  return Object.fromEntries(Object.entries(data).map(([inner, value]) => [inner, renamed(value, inner, rename)]));
}
