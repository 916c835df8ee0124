import type { CountedAs } from "./exercise.ts";
import type { FieldOutcome } from "./press-matching.ts";

const SORTS = [
  ["1", "Kind 1"],
  ["2", "Kind 2"],
  ["out", "On an edge that is out"],
  ["dirt", "Dirt"],
] as const;

/** What there was in the fields against what it was pressed as; presses for nothing stand in a line of their own. */
export function countedAs(fields: readonly FieldOutcome[]): readonly CountedAs[] {
  const all = fields.flatMap((field) => field.all);
  const number = (sort: (typeof SORTS)[number][0], pressed: "1" | "2" | null): number =>
    all.filter(([is, as]) => is === sort && as === pressed).length;
  const extra = (kind: "1" | "2"): number =>
    fields.reduce((sum, { pressedFor }) => sum + pressedFor.filter((one) => one === kind).length, 0) -
    SORTS.reduce((sum, [sort]) => sum + number(sort, kind), 0);
  return [
    ...SORTS.map(([sort, what]) => ({
      what,
      first: number(sort, "1"),
      second: number(sort, "2"),
      notCounted: number(sort, null),
    })),
    { what: "Nothing there, or pressed twice", first: extra("1"), second: extra("2"), notCounted: 0 },
  ];
}

/** What went wrong in a field, a few words each; empty where nothing did. */
export function wrongWords({ found, edges, twice, dirt, named }: FieldOutcome): string[] {
  const said = (number: number, words: string): string[] => (number === 0 ? [] : [`${number} ${words}`]);
  const falls = (values: readonly boolean[], wrong: boolean): number =>
    values.filter((one) => one === wrong).length;
  return [
    ...said(falls(found, false), "missed"),
    ...said(falls(twice, true), "counted twice or for nothing"),
    ...said(falls(edges, false), "against the edge rule"),
    ...said(falls(dirt, true), "of the dirt counted"),
    ...said(named.filter(([is, pressed]) => is !== pressed).length, "taken for the other kind"),
  ];
}
