/**
 * The first `count` digits of π, starting 3, 1, 4 …, in whole-number arithmetic alone: Machin's formula
 * π = 16·arctan(1/5) − 4·arctan(1/239) with ten guard digits.
 */
export function piDigits(count: number): number[] {
  const unit = 10n ** BigInt(count + 10);
  const arctanOfInverse = (x: bigint): bigint => {
    let power = unit / x;
    let sum = power;
    for (let n = 3n, sign = -1n; power !== 0n; n += 2n, sign = -sign) {
      power /= x * x;
      sum += (sign * power) / n;
    }
    return sum;
  };
  const pi = 16n * arctanOfInverse(5n) - 4n * arctanOfInverse(239n);
  return [...pi.toString().slice(0, count)].map(Number);
}

/**
 * NIST StRD PiDigits.dat: 5000 digits of π as that file has them. It differs from π in one digit, number 957 counted from
 * 1, where it has 3 in the place of 8; the certified values belong to the file.
 */
export function nistPiDigits(): number[] {
  return piDigits(5000).map((digit, index) => (index === 956 ? 3 : digit));
}
