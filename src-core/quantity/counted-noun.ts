/**
 * A number of things in words that agree with it: `1 row`, `2 rows`; `countedNoun(n, "object lies", "objects lie")`.
 * @param many what stands after every number but 1; without it, `one` with an s
 */
export function countedNoun(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}
