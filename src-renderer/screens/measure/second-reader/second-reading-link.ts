import type { Client } from "#core/contract/calls.ts";
import { CellDrafts } from "../../../grid/cell-drafts.ts";
import type { GridEffect } from "../../../grid/grid-effect.ts";
import { indexOfRow, type Outgoing } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { asSpecimen } from "./given-grid.ts";

/** Before a lost host is asked again, ms. */
const LOST_PAUSE = 1500;

/**
 * Joins the grid of a second reading to its service, one reading after another.
 * @returns keeps at once what is half-typed
 */
export function linkSecondReading(
  client: Client,
  store: GridStore,
  { secondReadingId, sheetId }: { readonly secondReadingId: string; readonly sheetId: string },
): { readonly flush: () => void } {
  let lane: Promise<void> = Promise.resolve();
  const inLane = (work: () => Promise<void>): void => {
    lane = lane.then(work);
  };
  const drafts = new CellDrafts({
    send: (draft) => client("secondReadings.keepDraft", { secondReadingId, ...draft }),
    inLane,
    lostPause: LOST_PAUSE,
  });
  const send = async (item: Extract<Outgoing, { kind: "enter" }>): Promise<void> => {
    const { requestId, rowId, cell, typed } = item;
    const reply = await client("secondReadings.enter", { requestId, secondReadingId, rowId, cell, typed });
    if (reply.ok) {
      const place = indexOfRow(store.state(), rowId) + 1;
      store.dispatch({ type: "rowStored", requestId, row: asSpecimen(reply.value, sheetId, place) });
    } else if (reply.error.code === "host.lost") store.dispatch({ type: "lost", requestId });
    else {
      const { code, message, hint } = reply.error;
      store.dispatch({ type: "refused", requestId, code, message: hint ? `${message} ${hint}` : message });
    }
  };
  store.onEffect = (effect: GridEffect) => {
    const item = effect.type === "send" ? effect.item : null;
    if (item?.kind === "enter") inLane(() => send(item));
    else if (effect.type === "keepDraft") drafts.keep(effect, effect.now);
    else if (effect.type === "dropDraft") drafts.drop(effect);
    else if (effect.type === "retryLater") setTimeout(() => store.dispatch({ type: "retry" }), LOST_PAUSE);
  };
  return { flush: () => drafts.flush() };
}
