/** The nth change of each item: there is no other key to a change as stored and as told. */
export function numbered<T>(records: readonly T[], itemOf: (record: T) => string): [string, T][] {
  const counts = new Map<string, number>();
  return records.map((record) => {
    const item = itemOf(record);
    const number = (counts.get(item) ?? 0) + 1;
    counts.set(item, number);
    return [`${item} ${number}`, record];
  });
}
