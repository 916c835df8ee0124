/**
 * The label that completes what is typed: the first of `labels` that begins with it, whatever the case. Null when
 * there is none, or nothing to add.
 */
export function completeLabel(typed: string, labels: readonly string[]): string | null {
  if (typed === "") return null;
  const start = typed.toLocaleLowerCase();
  const found = labels.find(
    (label) => label.length > typed.length && label.toLocaleLowerCase().startsWith(start),
  );
  return found ?? null;
}
