import styles from "./UnbrokenDates.module.css";

const DATE = /(\d{4}-\d\d-\d\d)/;

/** Text in which no date is broken at its hyphens. */
export function UnbrokenDates({ text }: { text: string }) {
  return text.split(DATE).map((part, index) =>
    DATE.test(part) ? (
      // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one text in their order
      <span key={index} className={styles.date}>
        {part}
      </span>
    ) : (
      part
    ),
  );
}
