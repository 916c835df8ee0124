import type { ImportColumn, ImportRole } from "#core/contract/records/exchange.ts";
import type { MethodDimension } from "#core/contract/records/method.ts";

const READING_WORDS: Readonly<Partial<Record<ImportRole, string>>> = {
  left: "left edge (div)",
  right: "right edge (div)",
  divisions: "divisions (div)",
  micrometres: "µm, converted elsewhere",
};

/** Everything a column can be said to hold, as choices; an empty value leaves it out. */
export function meaningChoices(dimensions: readonly MethodDimension[]): { value: string; words: string }[] {
  const readings = dimensions.flatMap(({ key, name }) =>
    Object.entries(READING_WORDS).map(([role, words]) => ({
      value: `${role} ${key}`,
      words: `${name}: ${words}`,
    })),
  );
  return [
    { value: "", words: "left out" },
    { value: "label", words: "Label" },
    { value: "note", words: "Note" },
    ...readings,
  ];
}

export function meaningOf(columns: readonly ImportColumn[], column: number): string {
  const found = columns.find((one) => one.column === column);
  if (!found) return "";
  return found.dimension === null ? found.role : `${found.role} ${found.dimension}`;
}

/** The columns with one of them given another meaning. */
export function withMeaning(
  columns: readonly ImportColumn[],
  column: number,
  meaning: string,
): ImportColumn[] {
  const others = columns.filter((one) => one.column !== column);
  if (meaning === "") return others;
  const [role = "label", dimension = null] = meaning.split(" ");
  return [...others, { column, role: role as ImportRole, dimension }];
}
