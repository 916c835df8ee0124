import type { CountCategory } from "#core/contract/records/count-method.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import type { LiveField } from "../state/counting-state.ts";
import { objects } from "../words.ts";

interface Row {
  readonly field: number;
  readonly counts: LiveField["thousandths"];
}

/** Fields by categories; an empty field stands with zeros. */
export function FieldTable({
  fields,
  categories,
}: {
  fields: readonly LiveField[];
  categories: readonly CountCategory[];
}) {
  const columns: readonly Column<Row>[] = [
    { key: "field", title: "field", cell: (row) => row.field, names: true },
    ...categories.map(({ key, name }) => ({
      key,
      title: name,
      cell: (row: Row) => objects((row.counts[key] ?? 0) / 1000),
      number: true,
    })),
  ];
  return (
    <DataTable
      caption="Fields by categories"
      captionHidden
      columns={columns}
      rows={fields.map(({ thousandths }, at) => ({ field: at + 1, counts: thousandths }))}
      rowKey={(row) => String(row.field)}
      empty="No field."
    />
  );
}
