/** Names come from a file: nothing in them may move the cursor of a terminal, turn a line around or begin a new one. */
export function oneLine(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, "\u00b7");
}
