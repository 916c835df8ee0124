import {
  type KeyboardEvent,
  type ReactNode,
  useDeferredValue,
  useLayoutEffect,
  useRef,
  useState,
} from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { TextField } from "../../parts/form/TextField.tsx";
import { Dialog } from "../../parts/layout/Dialog.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { chordInWords } from "../../window/key-words.ts";
import { type CommandId, KEYMAP, keysOf } from "../../window/keymap.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommandsBelow } from "../../window/use-command.tsx";
import styles from "./GoTo.module.css";
import { type FoundPlaces, holdsWords, useFoundRecords, useNamedPlaces } from "./use-places.ts";

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
  // Enter may come before what was typed is drawn, or before it has been looked for: it goes when all is there.
  const [entered, setEntered] = useState(false);
  const navigation = useNavigation();
  const commands = useCommandsBelow();
  const leaveTo = (go: () => void) => () => {
    onClose();
    // When the dialog has given the focus back: a command may look where it is.
    setTimeout(go, 0);
  };
  const named = useNamedPlaces(wanted);
  const places = named.places.map((place) => ({
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
  const isDrawn = typed === wanted && named.isWhole;
  const onEntered = (): void => setEntered(false);
  const results = useRef<HTMLDivElement>(null);
  const first = (): HTMLButtonElement | null => results.current?.querySelector("button") ?? null;
  const answerKey = (event: KeyboardEvent): void => {
    if (event.key === "Enter") setEntered(true);
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
            onChange={(text) => {
              setTyped(text);
              setEntered(false);
            }}
            error={null}
            autoFocus
            hint="Enter goes to the first one found, ↓ to the list."
          />
        </div>
        <div ref={results}>
          {wanted.trim() === "" ? (
            <Found targets={known} isWhole={isDrawn} {...{ entered, onEntered }} />
          ) : (
            <WithRecords words={wanted}>
              {(records) => (
                <Found
                  targets={[
                    ...known,
                    ...records.places.map((one) => ({
                      ...one,
                      go: leaveTo(() => navigation.go(one.location)),
                    })),
                  ]}
                  // Records stand behind what is known by name.
                  isWhole={isDrawn && (known.length > 0 || records.isWhole)}
                  {...{ entered, onEntered }}
                />
              )}
            </WithRecords>
          )}
        </div>
      </div>
    </Dialog>
  );
}

function WithRecords({ words, children }: { words: string; children: (records: FoundPlaces) => ReactNode }) {
  return children(useFoundRecords(words));
}

interface FoundProps {
  readonly targets: readonly Target[];
  /** The first of them is the first of all that is found. */
  readonly isWhole: boolean;
  /** Enter was pressed: the first one is wanted. */
  readonly entered: boolean;
  readonly onEntered: () => void;
}

function Found({ targets, isWhole, entered, onEntered }: FoundProps) {
  const roving = useRoving(targets.length);
  useLayoutEffect(() => {
    if (!entered || !isWhole) return;
    onEntered();
    targets[0]?.go();
  });
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
