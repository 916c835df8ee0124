/** Tab-separated lines of a label and two spans, in tenths of a division, made by a fixed rule: invented inputs. */
export function readingLines(from: number, count: number): string {
  return Array.from({ length: count }, (_, i) => {
    const n = from + i;
    const left = ((n * 7919) % 200) / 10;
    const right = left + 20 + ((n * 104_729) % 300) / 10;
    return [`Taxon ${n % 12}`, left, right.toFixed(1), left, (left + 12).toFixed(1)].join("\t");
  }).join("\n");
}
