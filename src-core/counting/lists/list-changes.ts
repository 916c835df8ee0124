import type { CountCategory } from "../../contract/records/count-method.ts";

/** What the next version of a list changes; a category is the same while its key is. */
export interface ListChanges {
  readonly added: readonly string[];
  readonly renamed: readonly { readonly from: string; readonly to: string }[];
  readonly removed: readonly string[];
}

export function listChanges(before: readonly CountCategory[], after: readonly CountCategory[]): ListChanges {
  const was = new Map(before.map((one) => [one.key, one]));
  const is = new Set(after.map(({ key }) => key));
  return {
    added: after.filter(({ key }) => !was.has(key)).map(({ name }) => name),
    renamed: after.flatMap(({ key, name }) => {
      const from = was.get(key)?.name;
      return from === undefined || from === name ? [] : [{ from, to: name }];
    }),
    removed: before.filter(({ key }) => !is.has(key)).map(({ name }) => name),
  };
}
