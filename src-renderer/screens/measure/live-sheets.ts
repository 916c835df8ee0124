import type { Client } from "#core/contract/calls.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { newId } from "../../bridge/request-id.ts";
import { columnsFor } from "../../grid/grid-columns.ts";
import type { GridEffect, RowsToStrike } from "../../grid/grid-effect.ts";
import { type GridState, newGrid } from "../../grid/grid-state.ts";
import { GridStore } from "../../grid/grid-store.ts";
import { SheetLink } from "../../grid/sheet-link.ts";
import { LiveRecords } from "../../live/live-records.ts";
import { ChangesElsewhere } from "./changes-elsewhere.ts";
import { windowLayout } from "./layout/window-layouts.ts";
import type { SheetContext } from "./sheet-context.ts";

/** The grid of one sheet with its link to the service. It outlives its screen while anything is not stored. */
export interface LiveSheet {
  /** The number of its sheet. */
  readonly number: string;
  readonly store: GridStore;
  readonly link: SheetLink;
  readonly elsewhere: ChangesElsewhere;
  /** Asked when rows are to be struck; set by the screen. */
  onAskStrike: (rows: RowsToStrike) => void;
}

/** Nothing typed is waiting in any form. */
export function isIdle(state: GridState): boolean {
  return (
    state.outbox.length === 0 &&
    state.refused.size === 0 &&
    state.halfTyped.size === 0 &&
    !state.editing?.touched
  );
}

const sheets = new LiveRecords<LiveSheet>(({ store }) => !isIdle(store.state()));

/** The live sheet of this window; made anew unless something of it is still to be stored. */
export function liveSheet(client: Client, context: SheetContext): LiveSheet {
  const live = sheets.open(client, context.sheet.id, () => newLiveSheet(client, context));
  // One that was kept may know another turret.
  live.store.dispatch({ type: "turretIs", objectives: objectivesOnTurret(context.microscope.objectives) });
  return live;
}

/** What would not be stored if the window closed now, in words, a sheet each. */
export function unstoredOfSheets(client: Client): string[] {
  return sheets.all(client).flatMap(({ number, store }) => {
    const { outbox, refused } = store.state();
    const words = [
      outbox.length > 0 ? countedNoun(outbox.length, "entry on its way", "entries on their way") : "",
      refused.size > 0
        ? `${countedNoun(refused.size, "entry", "entries")} that could not be stored as typed`
        : "",
    ].filter((word) => word !== "");
    return words.length === 0 ? [] : [`sheet ${number}: ${words.join(", ")}`];
  });
}

function newLiveSheet(client: Client, context: SheetContext): LiveSheet {
  const { sheet, method, microscope } = context;
  const store = new GridStore(
    newGrid({
      columns: columnsFor({ ...method.definition, ...windowLayout(method.familyId) }),
      objectives: objectivesOnTurret(microscope.objectives),
      objectiveId: sheet.objectiveId,
      total: sheet.rowCount,
      firstRowId: newId(),
    }),
    newId,
  );
  const live: LiveSheet = {
    number: sheet.number,
    store,
    elsewhere: new ChangesElsewhere(client, sheet.id, store),
    link: new SheetLink({
      client,
      sheetId: sheet.id,
      dispatch: store.dispatch,
      onAskStrike: (rows) => live.onAskStrike(rows),
    }),
    onAskStrike: () => undefined,
  };
  store.onEffect = (effect: GridEffect) => live.link.run(effect);
  // Asked before the rows are read: what changes from then on is told.
  void live.elsewhere.look();
  void live.link.open(sheet.rowCount);
  return live;
}
