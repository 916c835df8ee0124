import { type KeyboardEvent, useState } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { findTaxa } from "#core/counting/lists/find-taxon.ts";
import { playTone } from "../../../sound/window-sound.ts";
import type { CountingStore } from "../state/counting-store.ts";
import { objects } from "../words.ts";
import { keyWords } from "./counting-keys.ts";
import styles from "./FindTaxon.module.css";

export interface FindTaxonProps {
  readonly store: CountingStore;
  /** The one taken last, offered again while nothing is typed. */
  readonly lastFound: string | null;
  readonly onTake: (category: CountCategory) => void;
  /** Back to counting without taking one. */
  readonly onLeave: () => void;
}

/** Keys that lead back to the pad while nothing is typed: the one that opened the search, and the one that takes back. */
const LEAVES_EMPTY: readonly string[] = ["Space", "NumpadDecimal", "NumpadComma", "NumpadSubtract"];

/** Any category of the count by its first letters or its code: Enter takes it and comes back to counting. */
export function FindTaxon({ store, lastFound, onTake, onLeave }: FindTaxonProps) {
  const [typed, setTyped] = useState("");
  const [at, setAt] = useState(0);
  const { count, sums } = store.state();
  const last = count.categories.find(({ key }) => key === lastFound);
  const found = typed.trim() === "" ? (last ? [last] : []) : findTaxa(count.categories, typed);
  const current = found[at];

  const move = (by: number): void => {
    if (found.length > 0) setAt((at + by + found.length) % found.length);
  };
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.nativeEvent.isComposing || event.ctrlKey || event.altKey || event.metaKey) return;
    const { code } = event;
    if (code === "Escape" || (typed === "" && LEAVES_EMPTY.includes(code))) onLeave();
    else if (code === "Enter" || code === "NumpadEnter") {
      if (current) onTake(current);
      else playTone("refused");
    } else if (code === "ArrowDown") move(1);
    else if (code === "ArrowUp") move(-1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <div className={styles.find}>
      <label className={styles.label} htmlFor="find-taxon">
        Letters or code
      </label>
      <input
        id="find-taxon"
        className={styles.input}
        type="text"
        role="combobox"
        aria-expanded={found.length > 0}
        aria-controls="found-taxa"
        aria-activedescendant={current ? `found-${current.key}` : undefined}
        aria-autocomplete="list"
        autoComplete="off"
        spellCheck={false}
        // biome-ignore lint/a11y/noAutofocus: opened by a key to be typed into
        autoFocus
        value={typed}
        onChange={(event) => {
          setTyped(event.target.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
        onBlur={onLeave}
      />
      <div id="found-taxa" role="listbox" aria-label="Found" className={styles.found}>
        {found.map((category, i) => (
          <div
            key={category.key}
            id={`found-${category.key}`}
            role="option"
            tabIndex={-1}
            aria-selected={i === at}
            className={styles.option}
            onMouseDown={(event) => {
              event.preventDefault();
              onTake(category);
            }}
          >
            <span>{category.name}</span>
            <span className={styles.code}>
              {[category.code, category.keyCode && `key ${keyWords(category.keyCode)}`]
                .filter(Boolean)
                .join(" · ")}
            </span>
            <span className={styles.count}>{objects((sums.thousandths[category.key] ?? 0) / 1000)}</span>
          </div>
        ))}
      </div>
      <p className={styles.hint} role="status">
        {found.length === 0 && typed.trim() !== ""
          ? `No category begins with “${typed.trim()}”. F7 pauses, then Change keys adds one.`
          : "Enter takes it and goes on counting, Esc goes on without."}
      </p>
    </div>
  );
}
