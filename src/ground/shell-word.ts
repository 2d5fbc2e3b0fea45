/** A file's name as a shell takes it: in quotes where it holds more than letters, digits and `_ . / -`, and never as an option. */
export function shellWord(name: string): string {
  const safe = name.startsWith("-") ? `./${name}` : name;
  return /^[\w./-]+$/.test(safe) ? safe : `'${safe.replaceAll("'", "'\\''")}'`;
}
