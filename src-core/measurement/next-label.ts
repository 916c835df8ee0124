/** Longest number that is counted on; a longer row of digits is part of the name. */
const LONGEST_NUMBER = 9;

/**
 * The label that follows one with a running number: `Ulmus 9` → `Ulmus 10`, `B-09` → `B-10`. A label without a number
 * stays as it is.
 */
export function nextLabel(label: string): string {
  const match = /^(.*?)(\d+)$/s.exec(label.trim());
  const [, stem, digits] = match ?? [];
  if (stem === undefined || digits === undefined || digits.length > LONGEST_NUMBER) return label;
  return `${stem}${String(Number(digits) + 1).padStart(digits.length, "0")}`;
}
