import type { CountCategory } from "../../contract/records/count-method.ts";
import { plainLetters } from "./find-taxon.ts";

/** Keys of the keypad in the order in which a hand finds them. `.` stays free: it opens the search. */
const KEYPAD = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "0"].map((digit) => `Numpad${digit}`);

/** Categories without a key get those of the keypad that are still free, first come first served; the rest stay without. */
export function withAutomaticKeys(categories: readonly CountCategory[]): CountCategory[] {
  const taken = new Set<string>(categories.map(({ keyCode }) => keyCode));
  const free = KEYPAD.filter((code) => !taken.has(code));
  return categories.map((one) => (one.keyCode === "" ? { ...one, keyCode: free.shift() ?? "" } : one));
}

function unique(wanted: string, taken: (text: string) => boolean, longest: number): string {
  if (!taken(wanted)) return wanted;
  for (let number = 2; ; number += 1) {
    const next = `${wanted.slice(0, longest - String(number).length)}${number}`;
    if (!taken(next)) return next;
  }
}

/** A code of the first three letters of two words, or the first six of one: `ASTFOR`; numbered where it is taken. */
export function automaticCode(name: string, taken: ReadonlySet<string>): string {
  const [first = "", second] = plainLetters(name)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "");
  const letters = second === undefined ? first.slice(0, 6) : first.slice(0, 3) + second.slice(0, 3);
  return unique((letters || "taxon").toUpperCase(), (code) => taken.has(plainLetters(code)), 16);
}

/** The key of a category from its code: small letters, digits and `_`, beginning with a letter. */
export function categoryKeyOf(code: string, taken: ReadonlySet<string>): string {
  const letters = plainLetters(code).replace(/[^a-z0-9]+/g, "_");
  const wanted = (/^[a-z]/.test(letters) ? letters : `t${letters}`).slice(0, 20);
  return unique(wanted, (key) => taken.has(key), 20);
}
