import { createHash } from "node:crypto";
import type { ComponentChildren, JSX } from "preact";
import { HATCH_ID } from "../charts/theme.js";
import { script } from "../script.js";
import { style } from "../style.js";

/**
 * The frame of every page: a content policy that allows this style and this script and nothing else, no index, no
 * referrer, and a link past the head for the keyboard (`skip` names the id it leads to). `look`: what the page's own parts look like,
 * besides what all pages share.
 */
export function HtmlPage({
  title,
  skip,
  look = "",
  children,
}: {
  title: string;
  look?: string;
  skip: { readonly to: string; readonly text: string };
  children: ComponentChildren;
}): JSX.Element {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={look === "" ? contentPolicy : policyOf(style + look)} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="robots" content="noindex" />
        <meta name="referrer" content="no-referrer" />
        <meta name="color-scheme" content="light dark" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: style + look }} />
      </head>
      <body>
        <a class="skip" href={`#${skip.to}`}>
          {skip.text}
        </a>
        <Hatch />
        {children}
        <script dangerouslySetInnerHTML={{ __html: script }} />
      </body>
    </html>
  );
}

/**
 * Nothing may be loaded, framed or sent. The inline style and the inline script are allowed by their hashes, so that
 * markup which slipped through a name could neither run nor restyle the page.
 */
function policyOf(allStyle: string): string {
  return [
    "default-src 'none'",
    `style-src ${hashOf(allStyle)}`,
    `script-src ${hashOf(script)}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

const contentPolicy = policyOf(style);

function hashOf(text: string): string {
  return `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;
}

/** The hatching that stands for "unknown" in every diagram, defined once for the page. */
function Hatch(): JSX.Element {
  return (
    <svg class="definitions" width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id={HATCH_ID} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" stroke="var(--ink2)" stroke-width="1.4" />
        </pattern>
      </defs>
    </svg>
  );
}
