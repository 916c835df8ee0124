import type { Row } from "./connection.ts";

/** What a column holds, with a question mark also nothing; a list: one of these words. */
type Kind = "text" | "text?" | "number" | "number?" | readonly string[];

type Held<K extends Kind> = K extends readonly string[]
  ? K[number]
  : (K extends "text" | "text?" ? string : number) | (K extends "text?" | "number?" ? null : never);

function holds(kind: Kind, value: unknown): boolean {
  if (typeof kind !== "string") return (kind as readonly unknown[]).includes(value);
  if (value === null) return kind.endsWith("?");
  return typeof value === (kind.startsWith("text") ? "string" : "number");
}

/**
 * Reads a row that needs no schema: what each column holds is looked at, and the row is given on as it is. For what is
 * read with every key or by the thousand, where parsing would cost more than the statement.
 */
export function columns<const C extends Readonly<Record<string, Kind>>>(
  kinds: C,
): (row: Row) => { readonly [name in keyof C]: Held<C[name]> } {
  const wanted = Object.entries(kinds);
  return (row) => {
    for (const [name, kind] of wanted) {
      if (!holds(kind, row[name])) throw new Error(`${name} of a row is ${JSON.stringify(row[name])}`);
    }
    return row as { readonly [name in keyof C]: Held<C[name]> };
  };
}
