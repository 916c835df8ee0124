import { IMMERSIONS } from "#core/contract/records/microscope.ts";
import { EntryTable, type EntryTableProps } from "../../../parts/form/EntryTable.tsx";

type RowsProps = Pick<EntryTableProps, "bind" | "onAdd" | "onRemove"> & { readonly count: number };

/** The objectives of a turret, one row each. */
export function ObjectiveTable({ count, bind, onAdd, onRemove }: RowsProps) {
  return (
    <EntryTable
      caption="Objectives on the turret"
      columns={[
        { key: "position", title: "Position", kind: "number" },
        { key: "magnification", title: "Magnification", unit: "×", kind: "number", placeholder: "40" },
        { key: "numericalAperture", title: "Aperture", unit: "NA", kind: "number", placeholder: "0.65" },
        {
          key: "immersion",
          title: "Immersion",
          kind: "choice",
          choices: IMMERSIONS.map((immersion) => ({ value: immersion, words: immersion })),
        },
        { key: "serial", title: "Serial number", kind: "text", placeholder: "optional" },
      ]}
      rows={count}
      rowName={(row) => `Objective ${row + 1}`}
      bind={bind}
      onAdd={onAdd}
      addWords="Add objective"
      onRemove={onRemove}
      least={1}
      most={12}
    />
  );
}
