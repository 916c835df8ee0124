import { type KeyboardEvent, type ReactNode, useDeferredValue, useRef, useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { TextField } from "../../parts/form/TextField.tsx";
import { Dialog } from "../../parts/layout/Dialog.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { chordInWords } from "../../window/key-words.ts";
import { type CommandId, KEYMAP, keysOf } from "../../window/keymap.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommandsBelow } from "../../window/use-command.tsx";
import type { Place } from "./fixed-places.ts";
import styles from "./GoTo.module.css";
import { holdsWords, useFoundRecords, useNamedPlaces } from "./use-places.ts";

/** Something to go to or to do. */
interface Target {
  readonly key: string;
  readonly words: string;
  readonly kind: string;
  readonly go: () => void;
}

/** Going somewhere is no command of its own: the screens are found by their names. */
const isCommand = (id: CommandId): boolean =>
  !id.startsWith("go.") && id !== "app.goTo" && id !== "bench.choose" && !id.startsWith("list.");

/** Finds screens, commands, sheets, samples, labels and people by some letters; Enter goes to the first one found. */
export function GoToDialog({ onClose }: { onClose: () => void }) {
  const [typed, setTyped] = useState("");
  const wanted = useDeferredValue(typed);
  const navigation = useNavigation();
  const commands = useCommandsBelow();
  const leaveTo = (go: () => void) => () => {
    onClose();
    // When the dialog has given the focus back: a command may look where it is.
    setTimeout(go, 0);
  };
  const places = useNamedPlaces(wanted).map((place) => ({
    ...place,
    go: leaveTo(() => navigation.go(place.location)),
  }));
  const acts = commands.ids.filter(isCommand).flatMap((id): Target[] => {
    const entry = KEYMAP.find((one) => one.id === id);
    if (!entry) return [];
    const words = entry.words.charAt(0).toUpperCase() + entry.words.slice(1);
    return [
      {
        key: id,
        words,
        kind: `command, ${chordInWords(keysOf(id)[0] ?? "")}`,
        go: leaveTo(() => commands.run(id)),
      },
    ];
  });
  const known: readonly Target[] = [...places, ...acts.filter(({ words }) => holdsWords(words, wanted))];
  const results = useRef<HTMLDivElement>(null);
  const first = (): HTMLButtonElement | null => results.current?.querySelector("button") ?? null;
  const answerKey = (event: KeyboardEvent): void => {
    // What was typed a moment ago may not be drawn yet: Enter takes what is found by all of it.
    if (event.key === "Enter" && typed === wanted) first()?.click();
    else if (event.key === "ArrowDown") first()?.focus();
    else return;
    event.preventDefault();
  };
  return (
    <Dialog title="Go to" onClose={onClose}>
      <div className={styles.goTo}>
        {/* biome-ignore lint/a11y/noStaticElementInteractions: it hears Enter for its field */}
        <div onKeyDown={answerKey}>
          <TextField
            id="go-to"
            label="Screen, command, sheet, sample, label or person"
            value={typed}
            onChange={setTyped}
            error={null}
            autoFocus
            hint="Enter goes to the first one found, ↓ to the list."
          />
        </div>
        <div ref={results}>
          {wanted.trim() === "" ? (
            <Found targets={known} />
          ) : (
            <WithRecords words={wanted}>
              {(records) => (
                <Found
                  targets={[
                    ...known,
                    ...records.map((one) => ({ ...one, go: leaveTo(() => navigation.go(one.location)) })),
                  ]}
                />
              )}
            </WithRecords>
          )}
        </div>
      </div>
    </Dialog>
  );
}

function WithRecords({
  words,
  children,
}: {
  words: string;
  children: (records: readonly Place[]) => ReactNode;
}) {
  return children(useFoundRecords(words));
}

function Found({ targets }: { targets: readonly Target[] }) {
  const roving = useRoving(targets.length);
  return (
    <>
      <p role="status" className={styles.said}>
        {countedNoun(targets.length, "place")} found
      </p>
      <ul className={styles.targets}>
        {targets.map(({ key, words, kind, go }, at) => (
          <li key={`${kind} ${key}`}>
            <button type="button" className={styles.target} {...roving(at)} onClick={go}>
              <span>{words}</span>
              <span className={styles.said}>{kind}</span>
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
