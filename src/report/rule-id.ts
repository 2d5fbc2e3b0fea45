/** The id of a rule's place in the page, by its place among the rules. */
export function ruleId(index: number): string {
  return `rule-${index + 1}`;
}
