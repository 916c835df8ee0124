import { InputError } from "#core/quantity/input-error.ts";

/** As many rows as one second reading takes. */
const MOST = 1000;

/**
 * Row numbers as they are typed: `3+7+12-15`, with commas or spaces just as well.
 * @throws InputError `rows`
 */
export function readOrdinals(text: string): number[] {
  const parts = text.split(/[\s,+;]+/).filter((part) => part !== "");
  if (parts.length === 0) throw new InputError("rows", "needs at least one row number");
  const ordinals = parts.flatMap((part) => {
    const found = /^(\d{1,7})(?:-(\d{1,7}))?$/.exec(part);
    if (!found) throw new InputError("rows", `“${part}” is no row number and no range such as 12-15`);
    const from = Number(found[1]);
    const to = Number(found[2] ?? found[1]);
    if (from < 1 || to < from || to - from >= MOST) {
      throw new InputError("rows", `“${part}” is no range of at most ${MOST} rows`);
    }
    return Array.from({ length: to - from + 1 }, (_, at) => from + at);
  });
  const once = [...new Set(ordinals)];
  if (once.length > MOST) throw new InputError("rows", `are more than ${MOST}`);
  return once;
}
