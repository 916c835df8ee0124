import { classNames } from "./class-names.ts";
import styles from "./Ruler.module.css";

/** An engraved scale as a divider: decoration only, so hidden from screen readers. */
export function Ruler({ upright = false, strong = false }: { upright?: boolean; strong?: boolean }) {
  return (
    <div
      aria-hidden="true"
      className={classNames(styles.ruler, upright && styles.upright, strong && styles.strong)}
    />
  );
}
