import type { Client } from "#core/contract/calls.ts";
import { CellDrafts } from "../../../grid/cell-drafts.ts";
import type { GridEffect } from "../../../grid/grid-effect.ts";
import { indexOfRow, type Outgoing } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { replyAction } from "../../../grid/reply-action.ts";
import { Lane } from "../../../live/lane.ts";
import { LOST_PAUSE } from "../../../live/lost-pause.ts";
import { asSpecimen } from "./given-grid.ts";

/**
 * Joins the grid of a second reading to its service, one reading after another.
 * @returns keeps at once what is half-typed
 */
export function linkSecondReading(
  client: Client,
  store: GridStore,
  { secondReadingId, sheetId }: { readonly secondReadingId: string; readonly sheetId: string },
): { readonly flush: () => void } {
  const lane = new Lane();
  const drafts = new CellDrafts({
    send: (draft) => client("secondReadings.keepDraft", { secondReadingId, ...draft }),
    inLane: lane.run,
  });
  const send = async (item: Extract<Outgoing, { kind: "enter" }>): Promise<void> => {
    const { requestId, rowId, cell, typed } = item;
    const reply = await client("secondReadings.enter", { requestId, secondReadingId, rowId, cell, typed });
    store.dispatch(
      replyAction(requestId, reply, (read) => {
        const place = indexOfRow(store.state(), rowId) + 1;
        return { type: "rowStored", requestId, row: asSpecimen(read, sheetId, place) };
      }),
    );
  };
  store.onEffect = (effect: GridEffect) => {
    const item = effect.type === "send" ? effect.item : null;
    if (item?.kind === "enter") lane.run(() => send(item));
    else if (effect.type === "keepDraft") drafts.keep(effect, effect.now);
    else if (effect.type === "dropDraft") drafts.drop(effect);
    else if (effect.type === "retryLater") setTimeout(() => store.dispatch({ type: "retry" }), LOST_PAUSE);
  };
  return { flush: () => drafts.flush() };
}
