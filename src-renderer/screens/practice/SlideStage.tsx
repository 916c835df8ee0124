import type { KeyboardEvent, ReactNode, Ref } from "react";
import styles from "./Practice.module.css";

interface SlideStageProps {
  readonly ref?: Ref<HTMLElement>;
  readonly label: string;
  /** @returns whether the key was one of the slide's */
  readonly onKey: (event: KeyboardEvent) => boolean;
  readonly children: ReactNode;
}

/** The view that takes the keys by which the slide is moved. */
export function SlideStage({ ref, label, onKey, children }: SlideStageProps) {
  return (
    <section
      ref={ref}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the view takes the keys, as a slide takes the hand
      tabIndex={0}
      className={styles.stage}
      aria-label={label}
      onKeyDown={(event) => {
        if (event.altKey || event.ctrlKey || event.metaKey || event.target !== event.currentTarget) return;
        if (onKey(event)) event.preventDefault();
      }}
    >
      {children}
    </section>
  );
}

export function KeyList({ keys }: { keys: readonly (readonly [keys: string, words: string])[] }) {
  return (
    <dl className={styles.keys}>
      {keys.map(([names, words]) => (
        <div key={names}>
          <dt>{names}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  );
}
