import styles from "./charts.module.css";

/** A share of a whole as a bar with its number beside it. */
export function ShareBar({ share, words }: { share: number; words: string }) {
  return (
    <span className={styles.share}>
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" className={styles.bar}>
        <rect className={styles.barWell} width="100" height="10" />
        <rect className={styles.barFill} width={Math.min(100, Math.max(0, share * 100))} height="10" />
      </svg>
      <span className={styles.shareWords}>{words}</span>
    </span>
  );
}
