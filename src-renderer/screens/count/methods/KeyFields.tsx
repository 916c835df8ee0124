import { useState } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { COUNTS_AS, countsAsOfText, countsAsText } from "#core/counting/lists/counts-as.ts";
import { plainLetters } from "#core/counting/lists/find-taxon.ts";
import { Button } from "../../../parts/Button.tsx";
import { sentence } from "../../../parts/form/FieldFrame.tsx";
import { type Choice, SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import styles from "../CountTab.module.css";
import { isOnKeypad, keyWords, whyNotBindable } from "../hand/counting-keys.ts";
import { SumFields } from "./SumFields.tsx";

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
  if (code === "") return "no key: found by its letters";
  return isOnKeypad(code) ? `keypad ${keyWords(code)}` : `key ${keyWords(code)}`;
}

/** From this many categories on only those under a key are shown, and those that are looked for. */
const MANY = 24;

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
  const [lookedFor, setLookedFor] = useState("");
  const isShown = ({ name, keyCode, key }: CountCategory): boolean =>
    categories.length <= MANY ||
    keyCode !== "" ||
    key.startsWith("own_") ||
    (lookedFor.trim() !== "" && plainLetters(name).includes(plainLetters(lookedFor.trim())));

  const take = (at: number, code: string): void => {
    const why = code === "" ? null : whyNotBindable(code);
    const other =
      code === "" ? undefined : categories.find((one, place) => place !== at && one.keyCode === code);
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
        Delete takes the key away: the category is then found by its letters or its code.
      </p>
      {categories.length > MANY ? (
        <TextField
          id={`${id}-look-for`}
          label={`Look for one of ${categories.length} categories`}
          value={lookedFor}
          onChange={setLookedFor}
          hint="Those without a key are shown when letters of their name are typed."
        />
      ) : null}
      <div className={styles.keys}>
        {categories.map((category, at) =>
          !isShown(category) ? null : (
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
              onCountsAs={(value) => put(at, countingAs(category, value))}
              onRemove={() => onChange(categories.filter((_, place) => place !== at))}
            />
          ),
        )}
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
      <SumFields id={id} categories={categories} onChange={onChange} />
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

/** A category that counts as something else now. */
function countingAs(category: CountCategory, value: string): CountCategory {
  const { reported: _, decimals: __, ...rest } = category;
  return { ...rest, ...countsAsOfText(value) };
}

/** The usual ones, and the unusual one that a list has brought. */
function choicesFor(category: CountCategory): readonly Choice[] {
  const value = countsAsText(category);
  return COUNTS_AS.some((one) => one.value === value) ? COUNTS_AS : [{ value, words: value }, ...COUNTS_AS];
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
            else if (event.code === "Delete" || event.code === "Backspace") onKey("");
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
          value={countsAsText(category)}
          onChange={onCountsAs}
          choices={choicesFor(category)}
        />
      ) : null}
      {removable ? <span className={styles.rest} /> : null}
    </>
  );
}
