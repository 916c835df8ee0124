import type { CountCategory } from "#core/contract/records/count-method.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import type { LiveField } from "../state/counting-state.ts";
import { objects } from "../words.ts";

interface Row {
  readonly field: number;
  readonly counts: LiveField["thousandths"];
}

/** What is known of fields beside their counts. */
export interface AboutField {
  /** Where it lies, in words; empty: not written down. */
  readonly place: string;
  /** Names of its pictures. */
  readonly pictures: readonly string[];
}

/** Fields by categories; an empty field stands with zeros. */
export function FieldTable({
  fields,
  categories,
  about,
}: {
  fields: readonly LiveField[];
  categories: readonly CountCategory[];
  /** By number of the field. */
  about: ReadonlyMap<number, AboutField>;
}) {
  const known = [...about.values()];
  const columns: readonly Column<Row>[] = [
    { key: "field", title: "field", cell: (row) => row.field, names: true },
    ...categories.map(({ key, name }) => ({
      key,
      title: name,
      cell: (row: Row) => objects((row.counts[key] ?? 0) / 1000),
      number: true,
    })),
    ...(known.some(({ place }) => place !== "")
      ? [{ key: "place", title: "place", cell: ({ field }: Row) => about.get(field)?.place ?? "" }]
      : []),
    ...(known.some(({ pictures }) => pictures.length > 0)
      ? [
          {
            key: "pictures",
            title: "pictures",
            cell: ({ field }: Row) => <span data-as-written>{about.get(field)?.pictures.join(", ")}</span>,
          },
        ]
      : []),
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
