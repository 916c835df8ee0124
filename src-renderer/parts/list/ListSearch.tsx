import { type KeyboardEvent, useState } from "react";
import { FIRST_FOCUS } from "../../window/first-focus.ts";
import { Button } from "../Button.tsx";
import fields from "../Field.module.css";
import { DateField } from "../form/DateField.tsx";
import { SelectField } from "../form/SelectField.tsx";
import styles from "./List.module.css";
import type { ListPlaceView } from "./list-place.ts";

/** One way to narrow a list: the name of the filter, and its values with their words. */
export interface ListFilter {
  readonly key: string;
  readonly label: string;
  readonly choices: readonly { readonly value: string; readonly words: string }[];
}

export interface ListSearchProps {
  readonly at: ListPlaceView;
  /** What the search field asks for: “number, sample or customer”. */
  readonly asksFor: string;
  readonly filters: readonly ListFilter[];
  /** How much was found, in words. */
  readonly found: string;
  readonly takesFocus: boolean;
  /** Enter in the search field. */
  readonly onEnter?: () => void;
  readonly onDown?: () => void;
}

/** Narrows a long list: words, choices and days, all at once and each at will. */
export function ListSearch(props: ListSearchProps) {
  const { at, asksFor, filters, found, takesFocus, onEnter, onDown } = props;
  const { name, place, change } = at;
  const set = (key: string, value: string): void => change({ filters: { ...place.filters, [key]: value } });
  const isNarrowed = place.words !== "" || Object.values(place.filters).some((value) => value !== "");
  // Open where something narrows the list; taking the last filter away does not fold the others up.
  const [isOpen, setOpen] = useState(() => Object.values(place.filters).some((value) => value !== ""));
  const answerKey = (event: KeyboardEvent): void => {
    if (event.key === "Escape" && place.words !== "") change({ words: "" });
    else if (event.key === "Enter") onEnter?.();
    else if (event.key === "ArrowDown") onDown?.();
    else return;
    event.preventDefault();
  };
  return (
    <search className={styles.search} aria-label={`Find in ${name}`}>
      <div className={styles.words}>
        <input
          type="search"
          className={fields.control}
          value={place.words}
          {...(takesFocus ? { [FIRST_FOCUS]: true } : {})}
          aria-label={`Find: ${asksFor}`}
          placeholder={`Find: ${asksFor}`}
          autoComplete="off"
          spellCheck={false}
          maxLength={200}
          onChange={(event) => change({ words: event.target.value })}
          onKeyDown={answerKey}
        />
        <p role="status" className={styles.said}>
          {found}
        </p>
        {isNarrowed ? (
          <Button look="quiet" onClick={() => change({ words: "", filters: {} })}>
            Show all
          </Button>
        ) : null}
      </div>
      <details className={styles.more} open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>Narrow the list</summary>
        <div className={styles.filters}>
          {filters.map(({ key, label, choices }) => (
            <SelectField
              key={key}
              id={`${name}-${key}`}
              label={label}
              value={place.filters[key] ?? ""}
              onChange={(value) => set(key, value)}
              choices={choices}
              none="any"
              error={null}
            />
          ))}
          {(["from", "to"] as const).map((key) => (
            <DateField
              key={key}
              id={`${name}-${key}`}
              label={key === "from" ? "From the day" : "To the day"}
              value={place.filters[key] ?? ""}
              onChange={(value) => set(key, value)}
              error={null}
            />
          ))}
        </div>
      </details>
    </search>
  );
}
