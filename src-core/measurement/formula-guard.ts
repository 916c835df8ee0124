/** Characters that make a spreadsheet compute what follows: OWASP ASVS 5.0 1.2.10, CWE-1236; with full-width twins. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: a NUL is one of the characters to guard against
const COMPUTES = /^[=+\-@\t\r\n\u0000＝＋－＠]/;
/** What spreadsheets pass over before they look at the first character. */
const PASSED_OVER = /^[\s\u200b-\u200f\u2028\u2029\u2060\ufeff"']+/;

/** Text that no spreadsheet computes: an apostrophe goes before what could begin a formula. */
export function guarded(text: string): string {
  const shown = text.replace(PASSED_OVER, "");
  return COMPUTES.test(text) || COMPUTES.test(shown) ? `'${text}` : text;
}

/** Text as it was before `guarded`. */
export function unguarded(text: string): string {
  if (!text.startsWith("'")) return text;
  const inner = text.slice(1);
  return guarded(inner) === text ? inner : text;
}
