import { useCallback, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import styles from "./Attachments.module.css";
import { SmallPicture } from "./SmallPicture.tsx";
import { attachedBytes } from "./small-picture.ts";

/** Longer side of a picture on paper, points: about 9 cm at 250 to the inch. */
const SIDE = 900;
/** Pictures drawn on one page; the rest are named. */
const MOST_PICTURES = 40;

export interface PaperPicture {
  readonly attachment: Attachment;
  /** “Row 3, Tilia, stage x 12.4, y 101.5”: what it belongs to. */
  readonly of: string;
}

/** Whether pictures are wanted on the page; it can be printed once every one of them is drawn. */
export function usePaperPictures() {
  const [choice, setChoice] = useState<"without" | "drawing" | "with">("without");
  return {
    isWanted: choice !== "without",
    isDrawing: choice === "drawing",
    choose: (wanted: boolean) => setChoice(wanted ? "drawing" : "without"),
    settled: () => setChoice("with"),
  };
}

export interface PicturesChoiceProps {
  readonly count: number;
  /** “rows” or “fields” */
  readonly of: string;
  readonly paper: ReturnType<typeof usePaperPictures>;
}

/** Asks whether pictures are wanted on the page; nothing where there are none. */
export function PicturesChoice({ count, of, paper }: PicturesChoiceProps) {
  if (count === 0) return null;
  return (
    <label>
      <input
        type="checkbox"
        checked={paper.isWanted}
        onChange={(event) => paper.choose(event.target.checked)}
      />{" "}
      with the {countedNoun(count, "picture")} of {of}
    </label>
  );
}

export interface PaperPicturesProps {
  readonly title: string;
  readonly pictures: readonly PaperPicture[];
  /** Every picture is drawn, or its reason stands in its place: the page can be printed. */
  readonly onSettled: () => void;
}

/** Photographs and sketches with what they belong to and the SHA-256 of the file. */
export function PaperPictures({ title, pictures, onSettled }: PaperPicturesProps) {
  const shown = pictures.slice(0, MOST_PICTURES);
  const [settled] = useState(() => new Set<string>());
  const more = pictures.length - shown.length;
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <div className={styles.paper}>
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

function Picture({ picture, onSettled }: { picture: PaperPicture; onSettled: () => void }) {
  const { attachment, of } = picture;
  const client = useClient();
  const read = useCallback(() => attachedBytes(client, attachment), [client, attachment]);
  const caption = attachment.caption || attachment.fileName;
  return (
    <figure>
      <SmallPicture read={read} side={SIDE} alt={`${of}: ${caption}`} onSettled={onSettled} />
      <figcaption data-as-written>
        {of}: {caption}
        <span className={styles.paperHash}>SHA-256 {attachment.sha256}</span>
      </figcaption>
    </figure>
  );
}
