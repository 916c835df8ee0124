import { createElement, Fragment } from "react";
import { shown } from "../window/notation.ts";
import styles from "./Unbroken.module.css";

const DATE = String.raw`\d{4}-\d\d-\d\d|\d\d[./]\d\d[./]\d{4}|\d{1,2} [A-Z][a-z]{2} \d{4}|[A-Z][a-z]{2} \d{1,2}, \d{4}`;
const NUMBER = String.raw`(?<![\d.,])[−+]?\d[\d.,]{0,11}(?: ± \d[\d.,]*)?`;
const UNIT = String.raw`%|µm\/div|µm|mm|div|°C|days?\b|months?\b|years?\b`;
/** A date with its time, or a number with its unit, in any notation. */
const WHOLE = new RegExp(`((?:${DATE})(?: \\d\\d:\\d\\d)?(?: UTC)?|${NUMBER} (?:${UNIT}))`);

/** Text in which no date is broken within itself, and no number is parted from its unit. */
export function Unbroken({ text }: { text: string }) {
  // In the person's notation before it is taken apart: words of people are known only while they are whole.
  const parts = shown(text).split(WHOLE);
  // What the pattern takes stands at the odd places.
  const drawn = parts.map((part, index) =>
    index % 2 === 1 ? (
      // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one text in their order
      <span key={index} className={styles.whole} data-as-written>
        {part}
      </span>
    ) : (
      part
    ),
  );
  return createElement(Fragment, null, ...drawn);
}
