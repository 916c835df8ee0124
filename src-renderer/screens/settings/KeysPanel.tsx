import { useState } from "react";
import { Button } from "../../parts/Button.tsx";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { chordInWords } from "../../window/key-words.ts";
import type { CommandId } from "../../window/keymap.ts";
import { keysOf } from "../../window/keymap.ts";
import { COMMANDS_WITH_KEYS } from "../../window/own-keys.ts";
import { changeOwnSettings, useOwnSettings } from "../../window/own-settings.ts";
import { NewKeyDialog } from "./NewKeyDialog.tsx";

type Command = (typeof COMMANDS_WITH_KEYS)[number];

/** Every command with its key; a key can be changed and put back. */
export function KeysPanel() {
  const { keys } = useOwnSettings();
  const [asked, setAsked] = useState<Command | null>(null);
  const putBack = (id: CommandId): void => {
    const { [id]: _, ...others } = keys;
    changeOwnSettings({ keys: others });
  };
  return (
    <Panel
      title="Keys"
      lead="The keys of the keypad and of the grid stay as they are: they are one order of work."
      actions={
        Object.keys(keys).length > 0 ? (
          <Button onClick={() => changeOwnSettings({ keys: {} })}>All keys as usual</Button>
        ) : null
      }
    >
      <DataTable<Command>
        caption="Commands and their keys"
        captionHidden
        rows={COMMANDS_WITH_KEYS}
        rowKey={({ id }) => id}
        empty=""
        columns={[
          { key: "what", title: "Command", names: true, cell: ({ words }) => words },
          { key: "where", title: "Where", cell: ({ group }) => group },
          {
            key: "key",
            title: "Key",
            cell: ({ id }) => keysOf(id).map((chord) => <kbd key={chord}>{chordInWords(chord)}</kbd>),
          },
          {
            key: "act",
            title: "Actions",
            cell: (command) => (
              <>
                <Button
                  look="quiet"
                  aria-label={`Change the key of ${command.words}`}
                  onClick={() => setAsked(command)}
                >
                  Change
                </Button>
                {keys[command.id] ? (
                  <Button
                    look="quiet"
                    aria-label={`Usual key of ${command.words}`}
                    onClick={() => putBack(command.id)}
                  >
                    As usual: {command.keys.map(chordInWords).join(" ")}
                  </Button>
                ) : null}
              </>
            ),
          },
        ]}
      />
      {asked ? (
        <NewKeyDialog
          command={asked}
          onClose={() => setAsked(null)}
          onKey={(chord) => {
            changeOwnSettings({ keys: { ...keys, [asked.id]: [chord] } });
            setAsked(null);
          }}
        />
      ) : null}
    </Panel>
  );
}
