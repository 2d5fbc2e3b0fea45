import { readFileSync } from "node:fs";

/** The version of package.json, which is the only place it is written. */
export const version: string = (JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")) as { version: string }).version;
