import { useCallback } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { inTitle, isPictureOf, type PictureOwner } from "./picture-owner.ts";
import styles from "./pictures.module.css";
import { SmallPicture } from "./SmallPicture.tsx";
import { attachedBytes } from "./small-picture.ts";

/** Longer side of the picture beside the work, points. */
const SIDE = 240;
/** The cursor rests so long on a row before its picture is read, ms. */
const REST = 150;

export interface PictureAsideProps {
  /** “Picture of the row” */
  readonly label: string;
  /** What is at work; null: nothing yet. */
  readonly owner: PictureOwner | null;
  /** Withdrawn ones left out, newest first; those of other owners too. */
  readonly pictures: readonly Attachment[];
}

/** The newest picture of what is at work, small; it never takes the focus. */
export function PictureAside({ label, owner, pictures }: PictureAsideProps) {
  const own = owner ? pictures.filter((one) => isPictureOf(one, owner)) : [];
  const [newest] = own;
  return (
    <aside className={styles.aside} aria-label={label}>
      <p className={styles.said}>{owner ? inTitle(owner) : "No row yet"}</p>
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
