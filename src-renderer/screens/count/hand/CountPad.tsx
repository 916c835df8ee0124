import { useCallback } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import type { CountingState } from "../state/counting-state.ts";
import type { CountingStore } from "../state/counting-store.ts";
import styles from "./CountPad.module.css";
import { isOnKeypad, type PadCommand } from "./counting-keys.ts";
import { PadKey } from "./PadKey.tsx";
import type { CountKeys } from "./use-count-keys.ts";

/** The keypad as it lies under the hand: rows of four, each place by its key code. */
const BOARD = [
  ["NumLock", "NumpadDivide", "NumpadMultiply", "NumpadSubtract"],
  ["Numpad7", "Numpad8", "Numpad9", "NumpadAdd"],
  ["Numpad4", "Numpad5", "Numpad6"],
  ["Numpad1", "Numpad2", "Numpad3", "NumpadEnter"],
  ["Numpad0", "NumpadDecimal"],
] as const;

const FIXED: Readonly<Record<string, { readonly cap: string; readonly words: string }>> = {
  NumLock: { cap: "", words: "" },
  NumpadDivide: { cap: "/", words: "measure" },
  NumpadMultiply: { cap: "*", words: "½" },
  NumpadSubtract: { cap: "-", words: "take back" },
  NumpadAdd: { cap: "+", words: "number" },
  NumpadEnter: { cap: "Enter", words: "new field" },
  NumpadDecimal: { cap: ".", words: "find" },
};

const COMMANDS: Readonly<Record<string, PadCommand>> = {
  NumpadDivide: { kind: "measure" },
  NumpadMultiply: { kind: "prefix", prefix: { kind: "half" } },
  NumpadSubtract: { kind: "undo" },
  NumpadEnter: { kind: "field" },
  NumpadDecimal: { kind: "find" },
};

const sumsOf = (state: CountingState) => state.sums.thousandths;
const categoriesOf = (state: CountingState) => state.count.categories;
const lastOf = (state: CountingState) => state.lastPress?.category ?? null;

export interface CountPadProps {
  readonly store: CountingStore;
  readonly hand: CountKeys;
  readonly counting: boolean;
}

/** Every category where its key lies, with what it has counted. */
export function CountPad({ store, hand, counting }: CountPadProps) {
  const sums = useLivePart(store, sumsOf);
  const categories = useLivePart(store, categoriesOf);
  const last = useLivePart(store, lastOf);
  const { run } = hand;
  const press = useCallback(
    (category: CountCategory) => run({ kind: "press", category, weight: "1" }),
    [run],
  );
  const keyOf = (category: CountCategory) => (
    <PadKey
      key={category.key}
      category={category}
      thousandths={sums[category.key] ?? 0}
      last={last === category.key}
      onPress={press}
    />
  );
  // Of the categories without a key only what was counted is shown: the rest is found by its letters.
  const beside = categories.filter(
    ({ key, keyCode }) => !isOnKeypad(keyCode) && (keyCode !== "" || (sums[key] ?? 0) > 0 || key === last),
  );
  return (
    <section className={styles.pad} aria-label="Keys of this count" data-counting={counting}>
      <div className={styles.board}>
        {BOARD.flat().map((code) => {
          const category = categories.find(
            (one) => one.keyCode === code || (code === "NumpadDecimal" && one.keyCode === "NumpadComma"),
          );
          return (
            <div key={code} className={styles.place} data-code={code}>
              {category ? keyOf(category) : <FixedKey code={code} run={run} />}
            </div>
          );
        })}
      </div>
      {beside.length > 0 ? <div className={styles.letters}>{beside.map(keyOf)}</div> : null}
    </section>
  );
}

function FixedKey({ code, run }: { code: string; run: CountKeys["run"] }) {
  const fixed = FIXED[code];
  const command = COMMANDS[code];
  if (!fixed?.words) return <span className={styles.free} />;
  const words = (
    <>
      <span className={styles.cap}>{fixed.cap}</span>
      <span className={styles.fixedWords}>{fixed.words}</span>
    </>
  );
  if (!command) return <span className={styles.fixed}>{words}</span>;
  return (
    <button
      type="button"
      tabIndex={-1}
      className={styles.fixed}
      onMouseDown={(event) => event.preventDefault()}
      onClick={() => run(command)}
    >
      {words}
    </button>
  );
}
