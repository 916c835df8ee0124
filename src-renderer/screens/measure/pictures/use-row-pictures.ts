import { type DragEvent, useCallback, useMemo, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { useCall } from "../../../bridge/use-call.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { pictureFileOf } from "../../../parts/attachments/picture-file.ts";
import type { PictureOwner } from "../../../parts/attachments/picture-owner.ts";
import { useCommand } from "../../../window/use-command.tsx";
import { ownerOfRow, rowAtHand } from "./row-at-hand.ts";

interface Asked {
  readonly owner: PictureOwner;
  readonly given: File | null;
}

/** The head of a grid has two lines; the first row of specimens comes after them. */
const HEAD_LINES = 2;

function rowUnder({ target }: DragEvent): number | null {
  const line = target instanceof Element ? target.closest("[role=grid] tr[aria-rowindex]") : null;
  const at = Number(line?.getAttribute("aria-rowindex")) - HEAD_LINES - 1;
  return line && at >= 0 ? at : null;
}

/** Pictures of the rows of a sheet, and the ways to attach one: by key, by paste and by drop. */
export function useRowPictures(store: GridStore, sheetId: string) {
  const all = useCall("attachments.ofSheet", { sheetId }).data;
  const [asked, setAsked] = useState<Asked | null>(null);
  const ask = useCallback(
    (given: File | null): void => {
      const row = rowAtHand(store.state());
      store.dispatch({ type: "blurred" });
      if (row) setAsked({ owner: ownerOfRow(row), given });
      else
        store.dispatch({
          type: "say",
          text: "A picture belongs to a row: take its first reading, then attach it.",
        });
    },
    [store],
  );
  useCommand("measure.pictures", () => ask(null));
  const onDrop = (event: DragEvent): void => {
    if (event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    const row = rowUnder(event);
    if (row !== null) store.dispatch({ type: "focusCell", row, column: store.state().cursor.column });
    const file = pictureFileOf(event.dataTransfer);
    if (file) ask(file);
    else
      store.dispatch({
        type: "say",
        text: "What was dropped is no PNG or JPEG picture. Nothing was attached.",
      });
  };
  return {
    all: all ?? NONE,
    shown: useMemo(() => (all ?? NONE).filter((one) => one.withdrawn === null), [all]),
    asked,
    ask,
    close: () => setAsked(null),
    kept: (picture: Attachment): void => {
      setAsked(null);
      if (asked)
        store.dispatch({
          type: "say",
          text: `${picture.fileName} attached to ${asked.owner.words}.`,
          done: true,
        });
    },
    dropping: {
      onDrop,
      onDragOver: (event: DragEvent): void => {
        if (event.dataTransfer.types.includes("Files")) event.preventDefault();
      },
    },
  };
}

const NONE: readonly Attachment[] = [];
