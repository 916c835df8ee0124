import { useCallback, useState } from "react";
import type { ReportPicture } from "#core/contract/records/exchange.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { SmallPicture } from "../../parts/attachments/SmallPicture.tsx";
import { attachedBytes } from "../../parts/attachments/small-picture.ts";
import styles from "./report.module.css";

/** Longer side of a picture in the report, points: about 9 cm on paper at 250 to the inch. */
const SIDE = 900;
/** Pictures drawn in one report; the rest are named. */
const MOST_PICTURES = 40;

export interface ReportPicturesProps {
  readonly pictures: readonly ReportPicture[];
  /** Every picture is drawn, or its reason stands in its place: the page can be printed. */
  readonly onSettled: () => void;
}

/** Photographs and sketches of single rows, with the row, its place on the stage and the SHA-256 of the file. */
export function ReportPictures({ pictures, onSettled }: ReportPicturesProps) {
  const shown = pictures.slice(0, MOST_PICTURES);
  const [settled] = useState(() => new Set<string>());
  const more = pictures.length - shown.length;
  return (
    <section aria-label="Pictures of rows">
      <h3>Pictures of rows</h3>
      <div className={styles.pictures}>
        {shown.map((one) => (
          <Picture
            key={one.attachment.id}
            picture={one}
            onSettled={() => {
              settled.add(one.attachment.id);
              if (settled.size === shown.length) onSettled();
            }}
          />
        ))}
      </div>
      {more > 0 ? <p>… and {more} more: the workbook names all of them.</p> : null}
    </section>
  );
}

function Picture({ picture, onSettled }: { picture: ReportPicture; onSettled: () => void }) {
  const { attachment, ordinal, label, place } = picture;
  const client = useClient();
  const read = useCallback(() => attachedBytes(client, attachment), [client, attachment]);
  const caption = attachment.caption || attachment.fileName;
  const row = [`Row ${ordinal}`, label, place].filter((part) => part !== "").join(", ");
  return (
    <figure>
      <SmallPicture read={read} side={SIDE} alt={`${row}: ${caption}`} onSettled={onSettled} />
      <figcaption data-as-written>
        {row}: {caption}
        <span className={styles.hash}>SHA-256 {attachment.sha256}</span>
      </figcaption>
    </figure>
  );
}
