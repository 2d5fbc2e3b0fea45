/** The text with a capital first letter. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The text with a small first letter. */
export function uncapitalised(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
