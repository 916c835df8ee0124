import type { Undone } from "#core/contract/calls/sheets.ts";
import type { CellDraft, RowsChanged, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { GridColumn } from "./grid-columns.ts";
import type { TurretObjective } from "./grid-state.ts";

export type Movement =
  | "left"
  | "right"
  | "up"
  | "down"
  | "rowStart"
  | "rowEnd"
  | "first"
  | "last"
  | "pageUp"
  | "pageDown";

/** What happens after a text is taken. */
export type Onward = "next" | "stay" | "tab" | "backTab" | "specimen" | "turret";

/** What a key or the mouse asks for. */
export type KeyAction =
  | { readonly type: "move"; readonly by: Movement }
  | { readonly type: "focusCell"; readonly row: number; readonly column: number }
  | { readonly type: "extend"; readonly by: Movement }
  | { readonly type: "extendTo"; readonly row: number; readonly column: number }
  | { readonly type: "select"; readonly what: "rows" | "columns" | "all" }
  /** Opens the editor with the cell's text; Enter goes past a coordinate that is left empty. */
  | { readonly type: "open"; readonly byEnter?: true }
  /** Opens an empty editor over the cell's text. */
  | { readonly type: "typeOver" }
  | { readonly type: "switchMode" }
  | { readonly type: "take"; readonly onward: Onward }
  | { readonly type: "cancel" }
  /** Forgets refused or half-typed text of the cell. */
  | { readonly type: "forget" }
  | { readonly type: "goTo"; readonly place: "label" | "note" }
  | { readonly type: "nextRefused" }
  | { readonly type: "nextSpecimen" }
  | { readonly type: "stepBack" }
  | { readonly type: "repeatLabel" }
  | { readonly type: "turretOpen" }
  | { readonly type: "turretDigit"; readonly digit: string }
  | { readonly type: "turretBack" }
  | { readonly type: "turretChoose" }
  | { readonly type: "turretCancel" }
  | { readonly type: "turretOther" }
  | { readonly type: "askStrike" }
  | { readonly type: "undo" }
  | { readonly type: "redo" }
  | { readonly type: "waiting" }
  | { readonly type: "struck" }
  | { readonly type: "numLockOff" };

/** What the window tells the grid beside keys. */
export type WindowAction =
  /** The open editor holds this text now. */
  | { readonly type: "typed"; readonly text: string }
  | { readonly type: "pasteText"; readonly text: string }
  | { readonly type: "blurred" }
  /** Something is said to the person at the grid. */
  | { readonly type: "say"; readonly text: string; readonly done?: true }
  /** Other columns are shown; the cursor stays in the one it is in. */
  | { readonly type: "columns"; readonly columns: readonly GridColumn[] }
  /** What is on the turret now: an objective was replaced or added meanwhile. */
  | { readonly type: "turretIs"; readonly objectives: readonly TurretObjective[] }
  | { readonly type: "viewport"; readonly first: number; readonly last: number; readonly step: number }
  | { readonly type: "strike"; readonly rowId: string; readonly reason: string };

/** What comes back from the service. */
export type ReplyAction =
  | {
      readonly type: "pageArrived";
      readonly from: number;
      readonly rows: readonly SpecimenRow[];
      readonly total: number;
    }
  | { readonly type: "pageFailed"; readonly page: number }
  | { readonly type: "draftsArrived"; readonly drafts: readonly CellDraft[] }
  | { readonly type: "rowStored"; readonly requestId: string; readonly row: SpecimenRow }
  | { readonly type: "takenBack"; readonly requestId: string; readonly undone: Undone }
  /** An act on several rows that did not go through the queue is done. */
  | { readonly type: "rowsChanged"; readonly changed: RowsChanged; readonly words: string }
  /** Answer to the question what others have changed. */
  | { readonly type: "changedElsewhere"; readonly changed: RowsChanged | null; readonly objectiveId: string }
  | { readonly type: "objectiveStored"; readonly requestId: string; readonly sheet: Sheet }
  | { readonly type: "refused"; readonly requestId: string; readonly code: string; readonly message: string }
  | { readonly type: "lost"; readonly requestId: string }
  | { readonly type: "retry" };

export type GridAction = KeyAction | WindowAction | ReplyAction;
