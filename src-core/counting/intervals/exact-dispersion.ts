/** Ways to write `total` as a sum of at most `parts` positive whole numbers, each list in falling order. */
function* partitions(total: number, parts: number, largest: number): Generator<number[]> {
  if (total === 0) {
    yield [];
    return;
  }
  if (parts === 0) return;
  for (let first = Math.min(total, largest); first >= 1; first -= 1) {
    for (const rest of partitions(total - first, parts - 1, first)) yield [first, ...rest];
  }
}

function factorial(n: number): number {
  let product = 1;
  for (let factor = 2; factor <= n; factor += 1) product *= factor;
  return product;
}

/** Probability that objects thrown at random into n fields fall as this list says, in any order of the fields. */
function probabilityOf(parts: readonly number[], total: number, fields: number): number {
  const occupied = new Map<number, number>([[0, fields - parts.length]]);
  for (const part of parts) occupied.set(part, (occupied.get(part) ?? 0) + 1);
  let arrangements = factorial(fields);
  for (const times of occupied.values()) arrangements /= factorial(times);
  let throws = factorial(total);
  for (const part of parts) throws /= factorial(part);
  return (arrangements * throws) / fields ** total;
}

/** Tail probabilities of the dispersion index given the total; both include the observed value. */
export interface DispersionTails {
  readonly upperP: number;
  readonly lowerP: number;
}

/**
 * Exact tails of Σ(x − x̄)²/x̄ for few objects in few fields, where χ² is too coarse: all ways to spread the total are
 * listed with their multinomial probabilities. The index rises with Σx², so that is what is compared. Meant for totals
 * up to about 30.
 */
export function exactDispersionTails(counts: readonly number[]): DispersionTails {
  const total = counts.reduce((sum, count) => sum + count, 0);
  const observed = counts.reduce((sum, count) => sum + count * count, 0);
  let upperP = 0;
  let lowerP = 0;
  for (const parts of partitions(total, counts.length, total)) {
    const squares = parts.reduce((sum, part) => sum + part * part, 0);
    const probability = probabilityOf(parts, total, counts.length);
    if (squares >= observed) upperP += probability;
    if (squares <= observed) lowerP += probability;
  }
  return { upperP: Math.min(1, upperP), lowerP: Math.min(1, lowerP) };
}
