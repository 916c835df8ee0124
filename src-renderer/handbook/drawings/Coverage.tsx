import { scaleLinear } from "d3-scale";
import styles from "./drawings.module.css";

const x = scaleLinear([-3.4, 3.4], [40, 640]);
const y = scaleLinear([0, 1], [170, 30]);
const bell = (at: number): number => Math.exp((-at * at) / 2);
const outline = (from: number, to: number): string =>
  Array.from({ length: 61 }, (_, at) => from + ((to - from) * at) / 60)
    .map((at) => `${x(at).toFixed(1)} ${y(bell(at)).toFixed(1)}`)
    .join(" L ");

/** Where the true size probably lies: the share within ± U. */
export function Coverage() {
  return (
    <svg
      viewBox="0 0 680 220"
      role="img"
      aria-label="A bell curve around the result; the middle 95 percent lie within plus and minus U, the rest outside"
    >
      <path d={`M ${x(-2)} ${y(0)} L ${outline(-2, 2)} L ${x(2)} ${y(0)} Z`} className={styles.wash} />
      <path d={`M ${outline(-3.4, 3.4)}`} className={styles.line} />
      <line x1={x(-3.4)} x2={x(3.4)} y1={y(0)} y2={y(0)} className={styles.line} />
      <line x1={x(0)} x2={x(0)} y1={y(0)} y2={y(1)} className={styles.mark} />
      {[-2, 2].map((at) => (
        <line key={at} x1={x(at)} x2={x(at)} y1={y(0)} y2={y(bell(at)) - 20} className={styles.line} />
      ))}
      <text x={x(0)} y={22} className={styles.words}>
        the result: 295.6 µm
      </text>
      <text x={x(-2)} y={192} className={styles.words}>
        − U
      </text>
      <text x={x(2)} y={192} className={styles.words}>
        + U
      </text>
      <text x={x(0)} y={120} className={styles.words}>
        about 95 of 100
      </text>
      <text x={x(0)} y={212} className={styles.soft}>
        the true size lies in the shaded part about 95 times of 100, where the inputs are as stated
      </text>
    </svg>
  );
}
