/** Rows and cells of tab-separated text as spreadsheets copy it; one trailing line end is dropped. */
export function cellsOfClipboard(text: string): readonly (readonly string[])[] {
  const body = text.replace(/\r\n?/g, "\n").replace(/\n$/, "");
  return body.split("\n").map((line) => line.split("\t").map(unquoted));
}

function unquoted(cell: string): string {
  const inner = /^"(.*)"$/s.exec(cell)?.[1];
  return (inner === undefined ? cell : inner.replaceAll('""', '"')).trim();
}
