import { useCallback } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { SmallPicture } from "../../../parts/attachments/SmallPicture.tsx";
import { attachedBytes } from "../../../parts/attachments/small-picture.ts";
import styles from "./pictures.module.css";
import { rowAtHand, rowWords, sameRowAtHand } from "./row-at-hand.ts";

/** Longer side of the picture beside the rows, points. */
const SIDE = 240;
/** The cursor rests so long on a row before its picture is read, ms. */
const REST = 150;

export interface RowPictureAsideProps {
  readonly store: GridStore;
  /** Of this sheet, withdrawn ones left out, newest first; at least one. */
  readonly pictures: readonly Attachment[];
}

/** The newest picture of the row at work, small; it never takes the focus. */
export function RowPictureAside({ store, pictures }: RowPictureAsideProps) {
  const row = useLivePart(store, rowAtHand, sameRowAtHand);
  const own = pictures.filter((one) => one.subject.id === row?.id);
  const [newest] = own;
  return (
    <aside className={styles.aside} aria-label="Picture of the row">
      <p className={styles.said}>{row ? rowWords(row) : "No row yet"}</p>
      {newest ? <Newest key={newest.id} picture={newest} /> : <p className={styles.said}>No picture.</p>}
      {own.length > 1 ? (
        <p className={styles.said}>and {countedNoun(own.length - 1, "more picture")}: Alt+I</p>
      ) : null}
    </aside>
  );
}

function Newest({ picture }: { picture: Attachment }) {
  const client = useClient();
  const read = useCallback(() => attachedBytes(client, picture), [client, picture]);
  return (
    <figure>
      <SmallPicture
        read={read}
        side={SIDE}
        after={REST}
        alt={picture.caption || `Picture ${picture.fileName}`}
      />
      <figcaption className={styles.caption} data-as-written>
        {picture.caption || picture.fileName}
      </figcaption>
    </figure>
  );
}
