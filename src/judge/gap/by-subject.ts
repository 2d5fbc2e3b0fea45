/** The entry of a subject that is known to be among them. @throws RangeError when it is not. */
export function ofSubject<Entry extends { readonly subject: string }>(entries: readonly Entry[], subject: string): Entry {
  const found = entries.find((one) => one.subject === subject);
  if (found === undefined) throw new RangeError(`There is nothing about "${subject}".`);
  return found;
}
