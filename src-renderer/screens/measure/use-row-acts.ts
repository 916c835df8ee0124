import { useMemo } from "react";
import { type GridState, recordAt, rowIdAt } from "../../grid/grid-state.ts";
import { selectedRectangle } from "../../grid/selection.ts";
import type { GridActs } from "../../grid/use-grid-menu.tsx";
import { type CommandId, keysOf } from "../../window/keymap.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommandsBelow } from "../../window/use-command.tsx";
import { resultAtCursor } from "./use-trace-key.ts";

/** What a row of a sheet can have done to it from the menu: keys and commands that there are without it. */
export function useRowActs(sheetId: string): GridActs {
  const commands = useCommandsBelow();
  const navigation = useNavigation();
  return useMemo<GridActs>(
    () => (state, press) => {
      const command = (id: CommandId, words: string, disabled = false) => ({
        words,
        keys: keysOf(id)[0] ?? "",
        run: () => commands.run(id),
        disabled,
      });
      const row = recordAt(state, state.cursor.row);
      const isClosedToText = row?.struck != null || rowIdAt(state, state.cursor.row) === undefined;
      return [
        [
          {
            words: "Correct this cell",
            keys: "F2",
            run: () => press({ key: "F2" }),
            disabled: isClosedToText,
          },
          {
            words: "Note on the row",
            keys: "Ctrl+Enter",
            run: () => press({ key: "Enter", ctrl: true }),
            disabled: isClosedToText,
          },
          { words: "Label as above", keys: "*", run: () => press({ key: "*" }), disabled: isClosedToText },
          { words: "Copy", keys: "Ctrl+C", run: () => void document.execCommand("copy") },
        ],
        [
          {
            words: "Strike the row",
            keys: "Delete",
            run: () => press({ key: "Delete" }),
            disabled: !row || row.struck !== null,
          },
          { words: "Undo the last act", keys: "Ctrl+Z", run: () => press({ key: "z", ctrl: true }) },
          { words: "Redo it", keys: "Ctrl+Y", run: () => press({ key: "y", ctrl: true }) },
        ],
        [
          { words: "Objective from here on", keys: "/", run: () => press({ key: "/" }) },
          command("measure.rowsObjective", "Objective of these rows", !holdsStored(state)),
        ],
        [
          command("measure.trace", "Trace this result back", resultAtCursor(state) === null),
          command("measure.explain", "Flags explained"),
          {
            words: "Second readings",
            keys: "/ 0 3",
            run: () => navigation.go({ screen: "measure", sheetId, second: "list" }),
          },
          command("cells.find", "Find a row"),
          command("measure.positions", "Positions of rows"),
          command("measure.pictures", "Pictures of the row", !row),
        ],
      ];
    },
    [commands, navigation, sheetId],
  );
}

/** Some row of the selection, or that of the cursor, is on the sheet. */
function holdsStored(state: GridState): boolean {
  return (selectedRectangle(state)?.fromRow ?? state.cursor.row) < state.total;
}
