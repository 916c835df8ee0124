import { EntryTable, type EntryTableProps } from "../../../parts/form/EntryTable.tsx";

type RowsProps = Pick<EntryTableProps, "bind" | "onAdd" | "onRemove"> & { readonly count: number };

/** The eyepieces that carry a reticle, one row each. The common reticle is suggested, never assumed. */
export function EyepieceTable({ count, bind, onAdd, onRemove }: RowsProps) {
  return (
    <EntryTable
      caption="Eyepieces with their reticles"
      columns={[
        { key: "name", title: "Name", kind: "text", placeholder: "right 10×" },
        { key: "scaleLengthMm", title: "Reticle scale", unit: "mm", kind: "number", placeholder: "10" },
        { key: "divisions", title: "Divisions", kind: "number", placeholder: "100" },
        { key: "engraving", title: "Engraving", kind: "text", placeholder: "if any" },
        { key: "magnification", title: "Eyepiece", unit: "×", kind: "number", placeholder: "–" },
        { key: "fieldNumber", title: "Field no.", unit: "mm", kind: "number", placeholder: "–" },
        { key: "serial", title: "Serial number", kind: "text", placeholder: "optional" },
      ]}
      rows={count}
      rowName={(row) => `Eyepiece ${row + 1}`}
      bind={bind}
      onAdd={onAdd}
      addWords="Add eyepiece"
      onRemove={onRemove}
      least={1}
      most={6}
    />
  );
}
