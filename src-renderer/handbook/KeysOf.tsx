import { chordInWords } from "../window/key-words.ts";
import { type CommandId, KEYMAP, type KeyEntry, keysOf } from "../window/keymap.ts";
import styles from "./KeysOf.module.css";

const ENTRIES: readonly KeyEntry[] = KEYMAP;
/** Every group of the key table, in its order. */
export const KEY_GROUPS: readonly KeyEntry["group"][] = [...new Set(ENTRIES.map((entry) => entry.group))];

/** The keys of some groups, drawn from the key table. */
export function KeysOf({ groups }: { groups: readonly KeyEntry["group"][] }) {
  return (
    <div className={styles.groups}>
      {groups.map((group) => (
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
  );
}

function shown(entry: KeyEntry): readonly string[] {
  const chords = keysOf(entry.id as CommandId).map(chordInWords);
  const first = chords[0];
  return chords.length > 4 && first ? [`${first} … ${chords.at(-1)}`] : chords;
}
