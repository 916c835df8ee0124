import styles from "./Unbroken.module.css";

/** A date with its time, or a number with its unit. */
const WHOLE =
  /(\d{4}-\d\d-\d\d(?: \d\d:\d\d)?(?: UTC)?|(?<![\d.])[−+]?\d[\d.]{0,11}(?: ± \d[\d.]*)? (?:%|µm\/div|µm|mm|div|°C|days?\b|months?\b|years?\b))/;

/** Text in which no date is broken at its hyphens, and no number is parted from its unit. */
export function Unbroken({ text }: { text: string }) {
  // What the pattern takes stands at the odd places.
  return text.split(WHOLE).map((part, index) =>
    index % 2 === 1 ? (
      // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one text in their order
      <span key={index} className={styles.whole}>
        {part}
      </span>
    ) : (
      part
    ),
  );
}
