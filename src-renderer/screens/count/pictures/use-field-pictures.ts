import { type DragEvent, useCallback, useEffect, useMemo, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { pictureFileOf } from "../../../parts/attachments/picture-file.ts";
import type { PictureOwner } from "../../../parts/attachments/picture-owner.ts";
import { useCommand } from "../../../window/use-command.tsx";
import type { CountingStore } from "../state/counting-store.ts";

interface Asked {
  readonly owner: PictureOwner;
  readonly given: File | null;
}

export function ownerOfField(countId: string, field: number): PictureOwner {
  const words = `field ${field}`;
  return { subject: { kind: "count field", id: countId, field }, words, short: words };
}

/** True when what is pasted is the count's: no question is open and no text is being typed. */
const isForCount = ({ target }: Event): boolean =>
  document.querySelector("dialog[open]") === null &&
  target instanceof Element &&
  target.closest("input, select, textarea, [contenteditable]") === null;

/**
 * Pictures of the fields of a count, and the ways to attach one to the field in hand: by key, by paste and by drop.
 * @param isOpen false: the count is closed, and what stands beside it stays
 */
export function useFieldPictures(store: CountingStore, isOpen: boolean) {
  const countId = store.state().count.id;
  const all = useCall("attachments.ofCount", { countId }).data;
  const [asked, setAsked] = useState<Asked | null>(null);
  const ask = useCallback(
    (given: File | null): void => {
      const { count, fields } = store.state();
      // The field itself may still be on its way.
      void store.settled().then(() => setAsked({ owner: ownerOfField(count.id, fields.length), given }));
    },
    [store],
  );
  const say = useCallback(
    (text: string, kind: "note" | "care"): void => store.dispatch({ type: "remark", text, kind }),
    [store],
  );
  useCommand("measure.pictures", isOpen ? () => ask(null) : null);
  useEffect(() => {
    if (!isOpen) return undefined;
    const onPaste = (event: ClipboardEvent): void => {
      const picture = isForCount(event) ? pictureFileOf(event.clipboardData) : null;
      if (!picture) return;
      event.preventDefault();
      ask(picture);
    };
    document.addEventListener("paste", onPaste);
    return () => document.removeEventListener("paste", onPaste);
  }, [ask, isOpen]);
  return {
    all: all ?? NONE,
    shown: useMemo(() => (all ?? NONE).filter((one) => one.withdrawn === null), [all]),
    asked,
    ask,
    close: () => setAsked(null),
    kept: (picture: Attachment): void => {
      setAsked(null);
      if (asked) say(`${picture.fileName} attached to ${asked.owner.words}.`, "note");
    },
    dropping: {
      onDrop: (event: DragEvent): void => {
        if (event.dataTransfer.files.length === 0) return;
        event.preventDefault();
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

const NONE: readonly Attachment[] = [];
