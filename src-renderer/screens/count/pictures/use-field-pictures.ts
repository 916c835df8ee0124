import { useCallback, useEffect } from "react";
import { useCall } from "../../../bridge/use-call.ts";
import { pictureFileOf } from "../../../parts/attachments/picture-file.ts";
import type { PictureOwner } from "../../../parts/attachments/picture-owner.ts";
import { usePictureQuestion } from "../../../parts/attachments/use-picture-question.ts";
import { useCommand } from "../../../window/use-command.tsx";
import type { CountingStore } from "../state/counting-store.ts";

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
  const begin = useCallback(
    (ask: (owner: PictureOwner) => void): void => {
      const { count, fields } = store.state();
      // The field itself may still be on its way.
      void store.settled().then(() => ask(ownerOfField(count.id, fields.length)));
    },
    [store],
  );
  const say = useCallback(
    (text: string, kind: "done" | "care"): void =>
      store.dispatch({ type: "remark", text, kind: kind === "done" ? "note" : kind }),
    [store],
  );
  const question = usePictureQuestion({ all, begin, say });
  const { ask } = question;
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
  return question;
}
