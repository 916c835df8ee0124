import { Dialog } from "../parts/layout/Dialog.tsx";
import { KEYMAP, type KeyEntry } from "../window/keymap.ts";
import { useCommand } from "../window/use-command.tsx";
import styles from "./KeyMapDialog.module.css";

const ENTRIES: readonly KeyEntry[] = KEYMAP;
const GROUPS = [...new Set(ENTRIES.map((entry) => entry.group))];
const WORDS: Readonly<Record<string, string>> = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  PageDown: "Page ↓",
  PageUp: "Page ↑",
};

/** Every key of the program, drawn from the key table. */
export function KeyMapDialog({ onClose }: { onClose: () => void }) {
  return (
    <Dialog title="Keys" onClose={onClose} wide>
      <CloseOnSameKey onClose={onClose} />
      <div className={styles.groups}>
        {GROUPS.map((group) => (
          <section key={group} className={styles.group}>
            <h3>{group}</h3>
            <dl className={styles.keys}>
              {ENTRIES.filter((entry) => entry.group === group).map((entry) => (
                <div key={entry.id} className={styles.entry}>
                  <dt>
                    {shown(entry).map((chord) => (
                      <kbd key={chord}>{chord}</kbd>
                    ))}
                  </dt>
                  <dd>{entry.words}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Dialog>
  );
}

function CloseOnSameKey({ onClose }: { onClose: () => void }) {
  useCommand("app.keys", onClose);
  return null;
}

function shown(entry: KeyEntry): readonly string[] {
  const chords = entry.keys.map((chord) =>
    chord
      .split("+")
      .map((key) => WORDS[key] ?? key)
      .join("+"),
  );
  const first = chords[0];
  return chords.length > 4 && first ? [`${first} … ${chords.at(-1)}`] : chords;
}
