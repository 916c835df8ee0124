import { useLayoutEffect, useRef, useState } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { categoryTone } from "../../../sound/tones.ts";
import { playTone } from "../../../sound/window-sound.ts";
import { FIRST_FOCUS } from "../../../window/first-focus.ts";
import styles from "../CountTab.module.css";
import padStyles from "../hand/CountPad.module.css";
import { NO_PREFIX, type PadCommand, type PadPrefix, padCommand, placeOnPad } from "../hand/counting-keys.ts";
import { PadKey } from "../hand/PadKey.tsx";

/** One press of this field: a category and how many objects it stood for. */
export interface RecountPress {
  readonly category: string;
  readonly weight: string;
}

export type TypedCounts = Readonly<Record<string, string>>;

/** Counts with a press added, exactly. @throws InputError `counts` where what stands there is no number */
export function withPress(
  counts: TypedCounts,
  { category, weight }: RecountPress,
  sign: 1 | -1,
): TypedCounts {
  const typed = counts[category] ?? "";
  const before = typed.trim() === "" ? decimal("0") : readDecimal("counts", typed).value;
  const after = before.plus(decimal(weight).times(sign));
  return { ...counts, [category]: after.isZero() ? "" : after.toFixed() };
}

export interface RecountPadProps {
  readonly field: number;
  readonly categories: readonly CountCategory[];
  readonly counts: TypedCounts;
  readonly presses: readonly RecountPress[];
  readonly onChange: (counts: TypedCounts, presses: readonly RecountPress[]) => void;
  /** The field is being saved: presses meanwhile belong to the next one. */
  readonly busy: boolean;
  /** They wait here for it. */
  readonly held: { presses: readonly RecountPress[] };
  /** Enter: the field is done. */
  readonly onField: () => void;
}

/** The field of a recount counted with the keys of its count; what the keys come to stands in the fields below. */
export function RecountPad(props: RecountPadProps) {
  const { field, categories, counts, presses, onChange, busy, held, onField } = props;
  const place = useRef<HTMLElement>(null);
  const [prefix, setPrefix] = useState<PadPrefix>(NO_PREFIX);
  const [said, setSaid] = useState("");
  useLayoutEffect(() => place.current?.focus(), []);
  const refuse = (words: string): void => {
    playTone("refused");
    setSaid(words);
  };
  const change = (press: RecountPress, sign: 1 | -1): void => {
    const name = categories.find(({ key }) => key === press.category)?.name ?? press.category;
    try {
      onChange(withPress(counts, press, sign), sign === 1 ? [...presses, press] : presses.slice(0, -1));
      const at = categories.findIndex(({ key }) => key === press.category);
      playTone(sign === 1 ? categoryTone(Math.max(0, at)) : "undone");
      setSaid(sign === 1 ? "" : `${name} taken back.`);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      refuse(`What stands in “${name}” ${error.reason}: put it right below.`);
    }
  };
  useHeldPresses(props, refuse);
  const takeBack = (): void => {
    const last = presses.at(-1);
    if (last) change(last, -1);
    else refuse("No press of this field is left to take back.");
  };
  const press = ({ category, weight }: Extract<PadCommand, { kind: "press" }>): void => {
    const made = { category: category.key, weight };
    setPrefix(NO_PREFIX);
    if (busy) held.presses = [...held.presses, made];
    else change(made, 1);
  };
  const run = (command: PadCommand): void => {
    if (command.kind === "press") press(command);
    else if (command.kind === "refuse") refuse(command.words);
    else if (command.kind === "prefix") setPrefix(command.prefix);
    else if (command.kind === "measure") refuse("Nothing is measured in a recount.");
    else if (command.kind === "find") refuse("A category without a key is typed into its field below.");
    else if (busy) refuse("The field before is being saved: press it again.");
    else if (command.kind === "field") onField();
    else takeBack();
  };
  const shown = categories.filter(({ keyCode }) => keyCode !== "");
  return (
    <section
      ref={place}
      aria-label={`Keys of field ${field}`}
      aria-describedby="recount-keys"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: it hears the keys of the count
      tabIndex={0}
      {...{ [FIRST_FOCUS]: true }}
      className={padStyles.pad}
      onKeyDown={(event) => {
        if (event.target !== event.currentTarget || event.nativeEvent.isComposing) return;
        const held = event.ctrlKey || event.altKey || event.metaKey;
        const key = { code: placeOnPad(event.nativeEvent, categories), repeat: event.repeat, held };
        const command = padCommand(key, prefix, categories);
        if (!command) return;
        event.preventDefault();
        run(command);
      }}
    >
      <p id="recount-keys" className={styles.soft}>
        The keys of the count: - takes the last back, + gives a number, * a half, Enter ends the field.
        {prefix.kind === "number"
          ? ` Number: ${prefix.typed || "…"}`
          : prefix.kind === "half"
            ? " A half of:"
            : ""}
      </p>
      <div className={padStyles.letters}>
        {shown.map((category) => (
          <PadKey
            key={category.key}
            category={category}
            thousandths={thousandthsOf(counts[category.key])}
            last={presses.at(-1)?.category === category.key}
            onPress={(one) => run({ kind: "press", category: one, weight: "1" })}
          />
        ))}
      </div>
      <p role="status">{said}</p>
    </section>
  );
}

/** Of what stands in a field; 0 while it is no number. */
function thousandthsOf(typed = ""): number {
  try {
    return typed.trim() === "" ? 0 : readDecimal("counts", typed).value.times(1000).toNumber();
  } catch {
    return 0;
  }
}

/** Gives the field the presses that were made while the one before was saved; of a field that was not saved, says so. */
function useHeldPresses(
  { counts, presses, onChange, busy, held }: RecountPadProps,
  refuse: (words: string) => void,
): void {
  const wasBusy = useRef(busy);
  useLayoutEffect(() => {
    const waiting = held.presses;
    const isRefused = wasBusy.current && !busy;
    wasBusy.current = busy;
    if (busy || waiting.length === 0) return;
    held.presses = [];
    if (isRefused) refuse(`${waiting.length} presses after it were not taken: the field is not saved.`);
    else {
      onChange(
        waiting.reduce((sum, press) => withPress(sum, press, 1), counts),
        [...presses, ...waiting],
      );
    }
  });
}
