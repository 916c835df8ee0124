/** Mean width of a letter of running text, of the text's size; a little wide, since fonts differ. */
const LETTER_WIDTH = 0.54;

/**
 * Breaks a text into lines between its words; a word longer than a line is cut.
 * @param room width of a line, in the size of the text
 */
export function wordsInLines(text: string, room: number): string[] {
  const most = Math.max(1, Math.floor(room / LETTER_WIDTH));
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ").flatMap((long) => pieces(long, most))) {
    if (line !== "" && line.length + 1 + word.length > most) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

function pieces(word: string, most: number): string[] {
  const letters = Array.from(word);
  if (letters.length <= most) return [word];
  const cut: string[] = [];
  for (let at = 0; at < letters.length; at += most) cut.push(letters.slice(at, at + most).join(""));
  return cut;
}
