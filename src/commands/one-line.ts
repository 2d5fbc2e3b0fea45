/** Replaces control characters: a name from a file must not move the cursor, reverse a line or start a new one. */
export function oneLine(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, "\u00b7");
}
