import { useState } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { sumNames } from "#core/counting/results/sum-results.ts";
import { Button } from "../../../parts/Button.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import styles from "../CountTab.module.css";
import { type LinePart, partOfRow, type SumRow, sumRows, withRowPart } from "./sum-parts.ts";

export interface SumFieldsProps {
  readonly id: string;
  readonly categories: readonly CountCategory[];
  readonly onChange: (categories: readonly CountCategory[]) => void;
}

/** Which groups and categories belong to which sum; a sum that nothing belongs to is none. */
export function SumFields({ id, categories, onChange }: SumFieldsProps) {
  const [open, setOpen] = useState(false);
  const [added, setAdded] = useState<readonly string[]>([]);
  const [typed, setTyped] = useState("");
  const sums = [...new Set([...sumNames(categories), ...added])];
  const add = (): void => {
    const name = typed.trim();
    if (name === "" || sums.some((one) => one.toLowerCase() === name.toLowerCase())) return;
    setAdded([...added, name]);
    setTyped("");
  };
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Sums: {sums.length === 0 ? "none" : sums.join(", ")}</summary>
      {open ? (
        <div className={styles.stack}>
          <p className={styles.soft}>
            Percentages are given of each sum. What lies outside a sum may be given as per cent of it all the
            same. Groups come from a category list.
          </p>
          {sums.map((sum, at) => (
            <fieldset key={sum} className={styles.sum}>
              <legend>{sum}</legend>
              {sumRows(categories).map((row) => (
                <RowField
                  key={row.key}
                  id={`${id}-sum-${at}-${row.key.replaceAll(/[^a-z0-9_]/gi, "_")}`}
                  row={row}
                  sum={sum}
                  onPart={(part) => onChange(withRowPart(categories, row, sum, part))}
                />
              ))}
            </fieldset>
          ))}
          <TextField id={`${id}-new-sum`} label="Another sum" value={typed} onChange={setTyped} />
          <Button look="quiet" onClick={add}>
            Add the sum
          </Button>
        </div>
      ) : null}
    </details>
  );
}

const PART_CHOICES = [
  { value: "none", words: "not in it" },
  { value: "in", words: "in the sum" },
  { value: "of", words: "outside, as per cent of it" },
] as const;
const MIXED = { value: "mixed", words: "some of it" } as const;

function RowField(props: { id: string; row: SumRow; sum: string; onPart: (part: LinePart) => void }) {
  const { id, row, sum, onPart } = props;
  const part = partOfRow(row, sum);
  return (
    <SelectField
      id={id}
      label={row.name}
      value={part}
      choices={part === "mixed" ? [MIXED, ...PART_CHOICES] : PART_CHOICES}
      onChange={(value) => onPart(PART_CHOICES.find((one) => one.value === value)?.value ?? "mixed")}
    />
  );
}
