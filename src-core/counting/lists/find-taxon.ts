import type { CountCategory } from "../../contract/records/count-method.ts";

/** Small letters without accents: ø and ß stay, é is e. */
export function plainLetters(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

function words(text: string): readonly string[] {
  return plainLetters(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "");
}

/** True when every typed word begins one of the name's words, in their order: `ast fo` finds Asterionella formosa. */
function wordsBegin(name: readonly string[], typed: readonly string[]): boolean {
  let from = 0;
  for (const one of typed) {
    const at = name.findIndex((word, place) => place >= from && word.startsWith(one));
    if (at < 0) return false;
    from = at + 1;
  }
  return true;
}

/** 0: its code exactly, 1: the code begins so, 2: the name begins so, 3: words of the name do; null: no match. */
function rankOf({ name, code = "" }: CountCategory, typed: string): number | null {
  const letters = plainLetters(typed.trim());
  const own = plainLetters(code);
  if (own === letters) return 0;
  if (own.startsWith(letters)) return 1;
  if (plainLetters(name).startsWith(letters)) return 2;
  const parts = words(typed);
  return parts.length > 0 && wordsBegin(words(name), parts) ? 3 : null;
}

/** The categories that typed letters or a typed code mean, best first; in the order of the list where alike. */
export function findTaxa(categories: readonly CountCategory[], typed: string, most = 8): CountCategory[] {
  if (typed.trim() === "") return [];
  return categories
    .flatMap((category) => {
      const rank = rankOf(category, typed);
      return rank === null ? [] : [{ category, rank }];
    })
    .toSorted((one, other) => one.rank - other.rank)
    .slice(0, most)
    .map(({ category }) => category);
}
