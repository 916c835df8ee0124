import { changedExcept, patternOfWords } from "#core/quantity/except-words.ts";

/**
 * Under which names of the contract people's own words come: names, numbers of certificates, notes, paths. A sample called
 * “Lot 2.5” is shown so whatever the decimal sign.
 */
export const KEYS_OF_TYPED_TEXT: ReadonlySet<string> = new Set([
  "accreditation",
  "address",
  "amend",
  "batch",
  "caption",
  "checkIntervalReason",
  "convertedBy",
  "correct",
  "countingUnit",
  "customer",
  "databasePath",
  "dueReason",
  "edgeConvention",
  "engraving",
  "fileName",
  "formula",
  "group",
  "initials",
  "label",
  "labels",
  "laboratory",
  "maker",
  "model",
  "name",
  "note",
  "number",
  "overdue",
  "path",
  "reason",
  "remark",
  "sample",
  "serial",
  "slide",
  "source",
  "strike",
]);

/** What could be taken for a number or a date in another notation. */
const CHANGEABLE = /\d\.\d|\d{4}-\d\d-\d\d/;
const NUMBER_ALONE = /^[\d.,\s]+$/;

const texts = new Set<string>();
let pattern: RegExp | null = null;

/**
 * Remembers the words of people in an answer of the bench that another notation would change.
 * @param call whose answer it is: the reasons of trends are the program's own
 */
export function noteTypedTexts(answer: unknown, call: string, key = ""): void {
  if (typeof answer === "string") noteText(answer, call, key);
  else if (Array.isArray(answer)) for (const one of answer) noteTypedTexts(one, call, key);
  else if (typeof answer === "object" && answer !== null) {
    for (const [name, value] of Object.entries(answer)) noteTypedTexts(value, call, name);
  }
}

function noteText(text: string, call: string, key: string): void {
  if (!KEYS_OF_TYPED_TEXT.has(key) || !CHANGEABLE.test(text) || texts.has(text)) return;
  if (key === "reason" && call.startsWith("trends.")) return;
  // Labels are often bare numbers, as are the readings beside them: the grid itself shows its labels as written.
  if (key.startsWith("label") && NUMBER_ALONE.test(text)) return;
  texts.add(text);
  pattern = null;
}

/** Changes a text except for the words of people in it. */
export function exceptTypedTexts(text: string, change: (part: string) => string): string {
  if (texts.size === 0) return change(text);
  if (texts.has(text)) return text;
  pattern ??= patternOfWords([...texts]);
  return changedExcept(text, pattern, change);
}
