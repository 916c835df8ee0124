import type { SumLine, SumResult } from "#core/contract/records/count-results.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { objects, percent } from "../words.ts";

/** One sum of a count: groups and categories as percentages of it with exact limits. */
export function SumTable({ sum }: { sum: SumResult }) {
  return (
    <DataTable
      caption={`Percentages of ${sum.name}, ${objects(Number(sum.count))} counted`}
      columns={COLUMNS}
      rows={sum.lines}
      rowKey={({ of, key, part }) => `${of} ${part} ${key}`}
      empty={`${sum.name}: nothing of it has been counted yet.`}
    />
  );
}

function shareOfSum({ proportion, lower, upper }: SumLine): string {
  return `${percent(proportion)} (${(lower * 100).toFixed(1)} to ${(upper * 100).toFixed(1)})`;
}

const COLUMNS: readonly Column<SumLine>[] = [
  {
    key: "name",
    title: "group or category",
    cell: ({ of, name, part }) => (
      <>
        {of === "group" ? <strong>{name}</strong> : name}
        {part === "of" ? " (outside)" : ""}
      </>
    ),
    names: true,
  },
  { key: "count", title: "count", cell: ({ count }) => objects(Number(count)), number: true },
  { key: "share", title: "% of the sum (95 % exact)", cell: shareOfSum, number: true },
];
