import { useState } from "react";
import { CATEGORY_KINDS, type CountCategory } from "#core/contract/records/count-method.ts";
import { countingUnitOf } from "#core/counting/inputs/counting-unit.ts";
import { Button } from "../../../parts/Button.tsx";
import { sentence } from "../../../parts/form/FieldFrame.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import styles from "../CountShelf.module.css";
import { isOnKeypad, keyWords, whyNotBindable } from "../hand/counting-keys.ts";

export interface KeyFieldsProps {
  /** Unique in the page: names the fields. */
  readonly id: string;
  readonly categories: readonly CountCategory[];
  readonly onChange: (categories: readonly CountCategory[]) => void;
  /** Categories from this place on were added here and may be removed. */
  readonly fixed: number;
  readonly error?: string | null | undefined;
}

function keyName(code: string): string {
  if (code === "") return "no key yet";
  return isOnKeypad(code) ? `keypad ${keyWords(code)}` : `key ${keyWords(code)}`;
}

/** The first short key of an added category that is still free. */
function freeKey(categories: readonly CountCategory[]): string {
  for (let number = 1; ; number += 1) {
    if (!categories.some(({ key }) => key === `own_${number}`)) return `own_${number}`;
  }
}

/** Each category with its name and its key: the button takes the next key pressed. */
export function KeyFields({ id, categories, onChange, fixed, error }: KeyFieldsProps) {
  const [listening, setListening] = useState<number | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const put = (at: number, category: CountCategory): void => onChange(categories.with(at, category));

  const take = (at: number, code: string): void => {
    const why = whyNotBindable(code);
    const other = categories.find((one, place) => place !== at && one.keyCode === code);
    setProblem(why ? sentence(keyName(code), why) : null);
    if (why) return;
    const mine = categories[at]?.keyCode ?? "";
    // A key that is taken changes hands, so that two presses swap two categories.
    onChange(
      categories.map((one, place) => {
        if (place === at) return { ...one, keyCode: code };
        return one === other ? { ...one, keyCode: mine } : one;
      }),
    );
    setListening(null);
  };

  return (
    <fieldset>
      <legend className={styles.legend}>Keys</legend>
      <p className={styles.soft}>
        Choose a key, then press the one wanted. Digits of the keypad lie under the hand; letters work too.
      </p>
      <div className={styles.keys}>
        {categories.map((category, at) => (
          <CategoryLine
            key={category.key}
            id={`${id}-${category.key}`}
            category={category}
            listening={listening === at}
            removable={at >= fixed}
            onName={(name) => put(at, { ...category, name })}
            onListen={() => {
              setProblem(null);
              setListening(listening === at ? null : at);
            }}
            onKey={(code) => take(at, code)}
            onCountsAs={(value) => put(at, countedAs(category, value))}
            onRemove={() => onChange(categories.filter((_, place) => place !== at))}
          />
        ))}
        <p className={styles.problem} role="alert">
          {problem ?? (error ? sentence("Keys", error) : "")}
        </p>
      </div>
      <Button
        look="quiet"
        onClick={() => {
          const key = freeKey(categories);
          onChange([...categories, { key, name: "", keyCode: "", kind: "object", halves: false }]);
        }}
      >
        Add a category
      </Button>
    </fieldset>
  );
}

interface CategoryLineProps {
  readonly id: string;
  readonly category: CountCategory;
  readonly listening: boolean;
  readonly removable: boolean;
  readonly onName: (name: string) => void;
  readonly onListen: () => void;
  readonly onKey: (code: string) => void;
  readonly onCountsAs: (value: string) => void;
  readonly onRemove: () => void;
}

/** What a category may be to the result. */
const COUNTS_AS = [
  { value: "object", words: "part of the total" },
  { value: "halves", words: "part of the total, halves too" },
  { value: "decimals", words: "part of the total, decimals too (a length in units)" },
  { value: "aside", words: "counted beside the total" },
  { value: "doubtful", words: "doubtful, in no result" },
  { value: "marker", words: "marker spores" },
] as const;

function countedAs({ decimals: _, ...category }: CountCategory, value: string): CountCategory {
  const kind = CATEGORY_KINDS.find((one) => one === value) ?? "object";
  const counted = { ...category, kind, halves: value === "halves" };
  return value === "decimals" ? { ...counted, decimals: true } : counted;
}

function choiceOf(category: CountCategory): string {
  const unit = countingUnitOf(category);
  return unit === "whole" ? category.kind : unit;
}

function CategoryLine(props: CategoryLineProps) {
  const { id, category, listening, removable, onName, onListen, onKey, onCountsAs, onRemove } = props;
  return (
    <>
      <TextField
        id={id}
        label={category.key.startsWith("own_") ? "own category" : category.key.replaceAll("_", " ")}
        value={category.name}
        onChange={onName}
      />
      <span className={styles.keyButton}>
        <Button
          aria-label={`${category.name || "this category"}: ${listening ? "press the key wanted" : keyName(category.keyCode)}`}
          aria-pressed={listening}
          onClick={onListen}
          onKeyDown={(event) => {
            if (!listening || event.code === "Tab") return;
            event.preventDefault();
            event.stopPropagation();
            if (event.code === "Escape") onListen();
            else onKey(event.code);
          }}
        >
          {listening ? "press a key …" : keyName(category.keyCode)}
        </Button>
      </span>
      {removable ? (
        <Button look="quiet" aria-label={`Remove ${category.name || "this category"}`} onClick={onRemove}>
          Remove
        </Button>
      ) : (
        <span />
      )}
      {removable ? (
        <SelectField
          id={`${id}-counts-as`}
          label={`${category.name || "This category"} counts as`}
          value={choiceOf(category)}
          onChange={onCountsAs}
          choices={COUNTS_AS}
        />
      ) : null}
      {removable ? <span className={styles.rest} /> : null}
    </>
  );
}
