import type { ComponentChildren, JSX } from "preact";
import { contentPolicy } from "../content-policy.js";
import { script } from "../script.js";
import { style } from "../style.js";
import { Hatch } from "./hatch.js";

/**
 * What every page of ours is made in: a content policy that lets in this style and this script and nothing else, no index, no
 * referrer, and a way past the head for the keyboard (`skip` names the id it leads to).
 */
export function HtmlPage({ title, skip, children }: { title: string; skip: { readonly to: string; readonly text: string }; children: ComponentChildren }): JSX.Element {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={contentPolicy(style, script)} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="robots" content="noindex" />
        <meta name="referrer" content="no-referrer" />
        <meta name="color-scheme" content="light dark" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: style }} />
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
