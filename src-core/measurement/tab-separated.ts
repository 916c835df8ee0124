/** The index just behind a quoted cell that begins at `from`; null when the quote is only a character of the text. */
function endOfQuoted(text: string, from: number): number | null {
  for (let at = from + 1; at < text.length; at += 1) {
    if (text[at] !== '"') continue;
    if (text[at + 1] === '"') at += 1;
    else return at + 1 === text.length || text[at + 1] === "\t" || text[at + 1] === "\n" ? at + 1 : null;
  }
  return null;
}

function endOfPlain(text: string, from: number): number {
  for (let at = from; at < text.length; at += 1) {
    if (text[at] === "\t" || text[at] === "\n") return at;
  }
  return text.length;
}

/**
 * Lines and cells of tab-separated text as spreadsheets copy it: a cell in double quotes may hold tabs and line ends,
 * a doubled quote in it stands for one. Cells come without blanks around them; a last empty line is none.
 */
export function cellsOfText(pasted: string): string[][] {
  const text = pasted.replace(/\r\n?/g, "\n");
  const lines: string[][] = [];
  let line: string[] = [];
  for (let at = 0; at < text.length; ) {
    const quoted = text[at] === '"' ? endOfQuoted(text, at) : null;
    const end = quoted ?? endOfPlain(text, at);
    const cell = quoted === null ? text.slice(at, end) : text.slice(at + 1, end - 1).replaceAll('""', '"');
    line.push(cell.trim());
    if (text[end] === "\t") {
      // A tab at the very end still begins an empty cell.
      if (end + 1 === text.length) line.push("");
    } else {
      lines.push(line);
      line = [];
    }
    at = end + 1;
  }
  if (line.length > 0) lines.push(line);
  return lines;
}

/** Text that `cellsOfText` reads back: cells with tabs, line ends or a quote at their beginning are put in quotes. */
export function textOfCells(lines: readonly (readonly string[])[]): string {
  const cellOf = (cell: string): string =>
    /[\t\n\r]|^"/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
  return lines.map((line) => line.map(cellOf).join("\t")).join("\n");
}
