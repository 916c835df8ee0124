import { useCommand } from "../../window/use-command.tsx";
import styles from "./PartTabs.module.css";

export interface PartTabsProps<Part extends string> {
  /** What the parts are parts of, for screen readers. */
  readonly label: string;
  readonly parts: readonly {
    readonly key: Part;
    readonly words: string;
    readonly count?: number | undefined;
  }[];
  readonly current: Part;
  readonly onChoose: (part: Part) => void;
}

/** The parts of a screen in a row; Alt+PageDown and Alt+PageUp step through them. */
export function PartTabs<Part extends string>({ label, parts, current, onChoose }: PartTabsProps<Part>) {
  const at = parts.findIndex((part) => part.key === current);
  const step = (by: number): void => {
    const next = parts[(at + by + parts.length) % parts.length];
    if (next) onChoose(next.key);
  };
  useCommand("list.next", () => step(1));
  useCommand("list.previous", () => step(-1));
  return (
    <nav aria-label={label}>
      <ul className={styles.tabs}>
        {parts.map((part) => (
          <li key={part.key}>
            <button
              type="button"
              className={styles.tab}
              aria-current={part.key === current ? "page" : undefined}
              onClick={() => onChoose(part.key)}
            >
              {part.words}
              {part.count === undefined ? null : <span className={styles.count}> {part.count}</span>}
            </button>
          </li>
        ))}
      </ul>
    </nav>
  );
}
