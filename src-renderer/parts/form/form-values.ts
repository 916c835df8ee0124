/** Reads what stands at a dotted path such as `objectives.0.magnification`; undefined when there is nothing. */
export function valueAt(values: unknown, path: string): unknown {
  let at = values;
  for (const step of path.split(".")) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Record<string, unknown>)[step];
  }
  return at;
}

/** A copy of `values` with `value` at a dotted path; everything else is shared with the original. */
export function withValueAt<V>(values: V, path: string, value: unknown): V {
  const [step = "", ...rest] = path.split(".");
  const inner = rest.length === 0 ? value : withValueAt(valueAt(values, step), rest.join("."), value);
  if (Array.isArray(values)) {
    const copy = [...values];
    copy[Number(step)] = inner;
    return copy as V;
  }
  return { ...(values as object), [step]: inner } as V;
}

/** Problems by dotted path, in words that read after the field's label. */
export type FieldErrors = Readonly<Record<string, string>>;

/** Drops the name of the call's input object (`person.name` → `name`), so that paths are those of the form. */
export function pathInForm(path: string, root: string | undefined): string {
  return root && path.startsWith(`${root}.`) ? path.slice(root.length + 1) : path;
}

/** A list without its member at `index`. */
export function withoutAt<T>(list: readonly T[], index: number): readonly T[] {
  return list.filter((_, at) => at !== index);
}

/** A list of entry rows without the blank ones at its end; Enter in the last field opens one more than is needed. */
export function withoutBlankEnd<T>(rows: readonly T[], isBlank: (row: T) => boolean): readonly T[] {
  const last = rows.findLastIndex((row) => !isBlank(row));
  return rows.slice(0, Math.max(1, last + 1));
}
