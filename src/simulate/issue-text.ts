import type { z } from "zod";
import { foundText } from "../site/check-shape.js";

const kinds: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  object: "a mapping",
  record: "a mapping",
  array: "a list",
  tuple: "a list",
};

/**
 * What is wrong with a value of a scenario, worded as the scenario's own messages: what is expected, what is found.
 * `found` is the value at the issue's path; undefined without one.
 */
export function issueText(issue: z.core.$ZodIssue, found: unknown): string {
  if (issue.code === "custom" || issue.code === "invalid_format") return issue.message;
  if (issue.code === "unrecognized_keys") return "Expected no key of this name here";
  return `Expected ${expectedText(issue)}; found ${foundText(found)}`;
}

function expectedText(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return kinds[issue.expected] ?? issue.expected;
    case "invalid_value":
      return oneOf(issue.values);
    case "invalid_union":
      return "options" in issue && Array.isArray(issue.options) ? oneOf(issue.options) : issue.errors.map(([first]) => (first === undefined ? "something else" : expectedText(first))).join(", or ");
    case "too_small":
      return `${issue.inclusive === true ? "at least" : "more than"} ${String(issue.minimum)}${entries(issue.origin)}`;
    case "too_big":
      return `${issue.inclusive === true ? "at most" : "less than"} ${String(issue.maximum)}${entries(issue.origin)}`;
    default:
      return "something else";
  }
}

function oneOf(values: readonly unknown[]): string {
  return `${values.length > 1 ? "one of " : ""}${values.map(String).join(", ")}`;
}

function entries(origin: string): string {
  return origin === "array" ? " entries" : origin === "string" ? " characters" : "";
}
