const small = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** A count in a sentence: in words up to twelve, in digits from there on. */
export function numberWord(count: number): string {
  return small[count] ?? String(count);
}

/** With a capital first letter. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
