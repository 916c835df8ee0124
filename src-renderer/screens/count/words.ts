import type { CategoryResult, CountResults } from "#core/contract/records/count-results.ts";

/** A fraction in per cent with one place. */
export function percent(fraction: number): string {
  return `${(fraction * 100).toFixed(1)} %`;
}

/** A share with its interval: `45.0 % (39.5 to 50.7)`. */
export function shareWords({ share }: CategoryResult): string {
  if (!share) return "";
  return `${percent(share.proportion)} (${(share.lower * 100).toFixed(1)} to ${(share.upper * 100).toFixed(1)})`;
}

/** Limits in objects: `361.8 to 441.2, ± 9.9 %`. */
export function intervalWords(interval: CountResults["poisson"]): string {
  const limits = `${interval.lower.toFixed(1)} to ${interval.upper.toFixed(1)}`;
  return interval.relative === null ? limits : `${limits}, ± ${percent(interval.relative)}`;
}

const COUNT = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 3 });

/** A number of objects, with its decimals where it has some. */
export function objects(count: number): string {
  return COUNT.format(count);
}
