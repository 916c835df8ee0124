import type { Attachment } from "#core/contract/records/attachment.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { PictureAside } from "../../../parts/attachments/PictureAside.tsx";
import { ownerOfRow, rowAtHand, sameRowAtHand } from "./row-at-hand.ts";

export interface RowPictureAsideProps {
  readonly store: GridStore;
  /** Of this sheet, withdrawn ones left out, newest first; at least one. */
  readonly pictures: readonly Attachment[];
}

/** The newest picture of the row of the cursor, beside the grid. */
export function RowPictureAside({ store, pictures }: RowPictureAsideProps) {
  const row = useLivePart(store, rowAtHand, sameRowAtHand);
  return <PictureAside label="Picture of the row" owner={row && ownerOfRow(row)} pictures={pictures} />;
}
