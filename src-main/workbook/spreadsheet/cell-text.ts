/** A spreadsheet cell holds at most 32,767 characters; longer text ends in a note that says so. */
const LONGEST_CELL = 32_000;
const CUT = " … (cut here: the whole text is in the program)";

/** Characters XML 1.0 cannot carry, carriage returns (parsers turn them into line feeds) and lone surrogates. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to escape
const UNSAFE = /[\u0000-\u0008\u000b-\u001f\u007f\ufffe\uffff]|\p{Cs}/gu;
/** Text that already looks like an escape. */
const LOOKS_ESCAPED = /_(?=x[0-9A-Fa-f]{4}_)/g;

function escapeOf(character: string): string {
  return `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`;
}

/**
 * Text as a shared string carries it: every character that XML would lose or change becomes `_xHHHH_`, and text that
 * looks like such an escape is itself escaped (ECMA-376 Part 1, 22.9.2.19 ST_Xstring), so that spreadsheets show
 * exactly what was typed.
 */
export function cellText(text: string): string {
  const whole = text.length > LONGEST_CELL ? `${text.slice(0, LONGEST_CELL)}${CUT}` : text;
  return whole.replace(LOOKS_ESCAPED, "_x005F_").replace(UNSAFE, escapeOf);
}
