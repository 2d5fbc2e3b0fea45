/**
 * A file's name as a shell takes it: in quotes where it holds more than letters, digits and `_ . / -`; never as an option, as the assignment that
 * awk takes `name=value` for, or as the other computer that tar takes `name:path` for.
 */
export function shellWord(name: string): string {
  const safe = /^-|^[^/]*[=:]/.test(name) ? `./${name}` : name;
  return /^[\w./-]+$/.test(safe) ? safe : `'${safe.replaceAll("'", "'\\''")}'`;
}
