import { type Choice, SelectField } from "../../parts/form/SelectField.tsx";
import styles from "./Trends.module.css";

export interface TrendChooserProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly choices: readonly Choice[];
  readonly onChoose: (value: string) => void;
}

/** Whose history is shown; on paper a heading, since nothing can be chosen there. */
export function TrendChooser({ id, label, value, choices, onChoose }: TrendChooserProps) {
  const words = choices.find((one) => one.value === value)?.words;
  return (
    <>
      <div className={styles.chooser} data-screen-only>
        <SelectField id={id} label={label} value={value} choices={choices} onChange={onChoose} />
      </div>
      <h2 data-paper-only>
        Trends. {label}: {words}
      </h2>
    </>
  );
}
