import type { GridState } from "../../../grid/grid-state.ts";
import { recordAt } from "../../../grid/grid-state.ts";
import type { PictureOwner } from "../../../parts/attachments/picture-owner.ts";

/** The stored row that is at work. */
export interface RowAtHand {
  readonly id: string;
  readonly ordinal: number;
  readonly label: string;
}

/** The row of the cursor; on the blank row that above it, which was measured last. Null where none is stored. */
export function rowAtHand(state: GridState): RowAtHand | null {
  const { row } = state.cursor;
  const record = recordAt(state, row) ?? (row >= state.total ? recordAt(state, row - 1) : undefined);
  return record ? { id: record.id, ordinal: record.ordinal, label: record.label } : null;
}

export function sameRowAtHand(a: RowAtHand | null, b: RowAtHand | null): boolean {
  return (
    a === b || (a !== null && b !== null && a.id === b.id && a.ordinal === b.ordinal && a.label === b.label)
  );
}

export function ownerOfRow({ id, ordinal, label }: RowAtHand): PictureOwner {
  const short = `row ${ordinal}`;
  return {
    subject: { kind: "specimen row", id },
    words: label === "" ? short : `${short}, ${label}`,
    short,
  };
}
