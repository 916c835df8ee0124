/** Limits of an axis about zero that show every value, and at least `least` to either side. */
export function evenDomain(values: readonly number[], least: number): readonly [number, number] {
  const most = values.reduce((largest, value) => Math.max(largest, Math.abs(value)), least);
  return [-most * 1.15, most * 1.15];
}
