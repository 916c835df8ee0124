import type { CountCategory } from "../../contract/records/count-method.ts";

type CountsAs = Pick<CountCategory, "kind" | "halves" | "decimals" | "reported">;

/** What a category counts as, in the short words of a list: one of these, then what it takes beside whole objects. */
const KIND_OF = { total: "object", beside: "aside", doubtful: "doubtful", marker: "marker" } as const;
const WORDS = Object.keys(KIND_OF) as (keyof typeof KIND_OF)[];
const FURTHER: readonly string[] = ["halves", "decimals", "reported"];

/** The usual ones with their words in full. */
export const COUNTS_AS = [
  { value: "total", words: "part of the total" },
  { value: "total, halves", words: "part of the total, halves too" },
  { value: "total, decimals", words: "part of the total, decimals too (a length in units)" },
  { value: "beside", words: "counted beside the total" },
  { value: "beside, reported", words: "beside the total, with density and share of it" },
  { value: "doubtful", words: "doubtful, in no result" },
  { value: "marker", words: "marker spores" },
] as const;

export function countsAsText({ kind, halves, decimals, reported }: CountsAs): string {
  const word = WORDS.find((one) => KIND_OF[one] === kind) ?? "total";
  const unit = decimals ? "decimals" : halves ? "halves" : null;
  return [word, unit, reported ? "reported" : null].filter((one) => one !== null).join(", ");
}

/** Empty words are part of the total; null: no such words. */
export function countsAsOfText(text: string): CountsAs | null {
  const [first = "", ...further] = (text.trim() || "total")
    .toLowerCase()
    .split(",")
    .map((word) => word.trim());
  const word = WORDS.find((one) => one === first);
  const has = (what: string): boolean => further.includes(what);
  const known = further.every((one, i) => FURTHER.includes(one) && further.indexOf(one) === i);
  if (!word || !known || (has("halves") && has("decimals")) || (has("reported") && word !== "beside")) {
    return null;
  }
  return {
    kind: KIND_OF[word],
    halves: has("halves"),
    ...(has("decimals") ? { decimals: true } : {}),
    ...(has("reported") ? { reported: true } : {}),
  };
}
