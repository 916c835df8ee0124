import type { Client } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { Lane } from "../live/lane.ts";
import { LOST_PAUSE } from "../live/lost-pause.ts";
import { CellDrafts } from "./cell-drafts.ts";
import type { GridAction, ReplyAction } from "./grid-action.ts";
import type { GridEffect, RowsToStrike } from "./grid-effect.ts";
import { firstOrdinal } from "./grid-reducer.ts";
import { type Outgoing, PAGE_ROWS } from "./grid-state.ts";
import { replyAction } from "./reply-action.ts";

export interface SheetLinkOptions {
  readonly client: Client;
  readonly sheetId: string;
  readonly dispatch: (action: GridAction) => void;
  readonly onAskStrike: (rows: RowsToStrike) => void;
}

/**
 * Joins the grid of one sheet to its service: does what the reducer asks for and answers with actions. Writes go in
 * single file, so that a draft can never arrive after the reading that replaces it.
 */
export class SheetLink {
  /** Why a closed sheet is changed; goes with every change from then on. Empty: none is given. */
  amendReason = "";
  readonly #given: SheetLinkOptions;
  readonly #drafts: CellDrafts;
  readonly #lane = new Lane();
  #closed = false;

  constructor(given: SheetLinkOptions) {
    this.#given = given;
    const { client, sheetId } = given;
    this.#drafts = new CellDrafts({
      send: (draft) => client("rows.keepDraft", { sheetId, ...draft }),
      inLane: this.#lane.run,
    });
  }

  readonly run = (effect: GridEffect): void => {
    if (effect.type === "send") this.#lane.run(() => this.#send(effect.item));
    else if (effect.type === "load") this.#load(effect.page, effect.later);
    else if (effect.type === "keepDraft") this.#drafts.keep(effect, effect.now);
    else if (effect.type === "dropDraft") this.#drafts.drop(effect);
    else if (effect.type === "retryLater") setTimeout(() => this.#dispatch({ type: "retry" }), LOST_PAUSE);
    else this.#given.onAskStrike(effect.rows);
  };

  /** Fetches the last rows and the drafts: what the screen needs before the first key. */
  async open(total: number): Promise<void> {
    if (total > 0) await this.#fetchPage(Math.floor((total - 1) / PAGE_ROWS));
    const reply = await this.#given.client("sheets.get", { sheetId: this.#given.sheetId });
    if (reply.ok) this.#dispatch({ type: "draftsArrived", drafts: reply.value.drafts });
  }

  /** Keeps at once what waits for a pause in typing. */
  flush(): void {
    this.#drafts.flush();
  }

  close(): void {
    this.#drafts.close();
    this.#closed = true;
  }

  #dispatch(action: ReplyAction): void {
    if (!this.#closed) this.#given.dispatch(action);
  }

  #load(page: number, later: boolean): void {
    setTimeout(() => void this.#fetchPage(page), later ? LOST_PAUSE : 0);
  }

  async #fetchPage(page: number): Promise<void> {
    const from = firstOrdinal(page);
    const reply = await this.#given.client("rows.page", {
      sheetId: this.#given.sheetId,
      from,
      count: PAGE_ROWS,
    });
    if (reply.ok) this.#dispatch({ type: "pageArrived", from, ...reply.value });
    else this.#dispatch({ type: "pageFailed", page });
  }

  async #send(item: Outgoing): Promise<void> {
    const { requestId } = item;
    if (item.kind === "objective") {
      const reply = await this.#given.client("sheets.chooseObjective", {
        requestId,
        sheetId: this.#given.sheetId,
        objectiveId: item.objectiveId,
      });
      this.#answer(requestId, reply, (sheet) => ({ type: "objectiveStored", requestId, sheet }));
    } else if (item.kind === "undo" || item.kind === "redo") {
      const { sheetId } = this.#given;
      const reply = await this.#given.client(`rows.${item.kind}`, {
        requestId,
        sheetId,
        ...this.#why(),
      });
      this.#answer(requestId, reply, (undone) => ({ type: "takenBack", requestId, undone }));
    } else {
      this.#answer(requestId, await this.#sendRow(item), (row) => ({ type: "rowStored", requestId, row }));
    }
  }

  #why(): { reason?: string } {
    const reason = this.amendReason.trim();
    return reason === "" ? {} : { reason };
  }

  #sendRow(item: Extract<Outgoing, { rowId: string }>) {
    const { client, sheetId } = this.#given;
    const { requestId, rowId } = item;
    if (item.kind === "enter") {
      const { cell, typed, label } = item;
      return client("rows.enter", { requestId, sheetId, rowId, cell, typed, label, ...this.#why() });
    }
    if (item.kind === "describe") {
      return client("rows.describe", {
        requestId,
        sheetId,
        rowId,
        label: item.label,
        note: item.note,
        ...(item.stage === undefined ? {} : { stage: item.stage }),
        ...this.#why(),
      });
    }
    return client("rows.strike", { requestId, sheetId, rowId, reason: item.reason });
  }

  #answer<T>(requestId: string, reply: Reply<T>, stored: (value: T) => ReplyAction): void {
    this.#dispatch(replyAction(requestId, reply, stored));
  }
}
