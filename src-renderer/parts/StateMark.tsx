import styles from "./StateMark.module.css";

export type MarkState = "good" | "warn" | "bad" | "none";

const SHAPES = {
  good: <path d="M3 10.5 8 15.5 17 5" fill="none" strokeWidth="3" />,
  warn: <path d="M10 2.5 18.5 17.5H1.5Z M10 8v4.2 M10 14.4v1.2" fill="none" strokeWidth="2" />,
  bad: (
    <path
      d="M6.2 1.8h7.6l4.4 4.4v7.6l-4.4 4.4H6.2l-4.4-4.4V6.2Z M6.8 6.8l6.4 6.4 M13.2 6.8l-6.4 6.4"
      fill="none"
      strokeWidth="2"
    />
  ),
  none: <circle cx="10" cy="10" r="7" fill="none" strokeWidth="2" strokeDasharray="3.5 3.2" />,
} as const;

/** The sign of a state by its shape as well as its colour; the words stand beside it. */
export function StateMark({ state }: { state: MarkState }) {
  return (
    <svg className={`${styles.mark} ${styles[state]}`} viewBox="0 0 20 20" aria-hidden="true">
      {SHAPES[state]}
    </svg>
  );
}
