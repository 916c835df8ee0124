import { type DragEvent, useCallback, useMemo, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { pictureFileOf } from "./picture-file.ts";
import type { PictureOwner } from "./picture-owner.ts";

export interface PictureQuestionOptions {
  /** Pictures of all that is worked on; undefined while they are read. */
  readonly all: readonly Attachment[] | undefined;
  /** Finds what the picture belongs to, and then asks. */
  readonly begin: (ask: (owner: PictureOwner) => void) => void;
  readonly say: (text: string, kind: "done" | "care") => void;
  /** Told where something was dropped, before it is asked about. */
  readonly onPlace?: (event: DragEvent) => void;
}

const NONE: readonly Attachment[] = [];

/** The question for a picture of a row or a field, by key, paste or drop, and what came of it. */
export function usePictureQuestion({ all = NONE, begin, say, onPlace }: PictureQuestionOptions) {
  const [asked, setAsked] = useState<{ readonly owner: PictureOwner; readonly given: File | null } | null>(
    null,
  );
  const ask = useCallback(
    (given: File | null): void => begin((owner) => setAsked({ owner, given })),
    [begin],
  );
  return {
    all,
    shown: useMemo(() => all.filter((one) => one.withdrawn === null), [all]),
    asked,
    ask,
    close: () => setAsked(null),
    kept: (picture: Attachment): void => {
      setAsked(null);
      if (asked) say(`${picture.fileName} attached to ${asked.owner.words}.`, "done");
    },
    dropping: {
      onDrop: (event: DragEvent): void => {
        if (event.dataTransfer.files.length === 0) return;
        event.preventDefault();
        onPlace?.(event);
        const file = pictureFileOf(event.dataTransfer);
        if (file) ask(file);
        else say("What was dropped is no PNG or JPEG picture. Nothing was attached.", "care");
      },
      onDragOver: (event: DragEvent): void => {
        if (event.dataTransfer.types.includes("Files")) event.preventDefault();
      },
    },
  };
}
