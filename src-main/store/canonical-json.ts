/** JSON text with the keys of every object in code-unit order and without undefined: equal values, equal text. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((one) => canonicalJson(one ?? null)).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value ?? null);
  const entries = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .sort(([one], [other]) => (one < other ? -1 : 1));
  return `{${entries.map(([key, one]) => `${JSON.stringify(key)}:${canonicalJson(one)}`).join(",")}}`;
}
