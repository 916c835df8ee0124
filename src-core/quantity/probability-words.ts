/**
 * A probability as printed: two significant digits, `< 0.001` below that and `> 0.99` where digits would say 1. Never a
 * plain 0.
 * @param p 0…1
 */
export function probabilityWords(p: number): string {
  if (p < 0.001) return "< 0.001";
  return p > 0.99 && p < 1 ? "> 0.99" : String(Number(p.toPrecision(2)));
}

/** As `probabilityWords`, to follow a p in a sentence: `= 0.045`, `< 0.001`. */
export function equalsProbability(p: number): string {
  const words = probabilityWords(p);
  return /^[<>]/.test(words) ? words : `= ${words}`;
}
