import { scaleLog } from "d3-scale";
import styles from "./drawings.module.css";

/** What 100 divisions cover under each objective (invented train of 10.4 µm/div at 10×), µm. */
const COVERED = [
  { words: "4×", length: 2600 },
  { words: "10×", length: 1040 },
  { words: "40×", length: 260 },
  { words: "100×", length: 104 },
];
/** Slides by their ruled length, µm. */
const SLIDES = [
  { words: "10 mm in 0.1 mm", length: 10_000, finest: 100 },
  { words: "1 mm in 0.01 mm", length: 1000, finest: 10 },
  { words: "0.1 mm in 0.001 mm", length: 100, finest: 1 },
];
const x = scaleLog([1, 12_000], [150, 650]);

/** Ruled lengths of three common slides against what the reticle covers under four objectives. */
export function Slides() {
  return (
    <svg
      viewBox="0 0 680 270"
      role="img"
      aria-label="Bars from the finest interval to the whole length of three slides, with the length that the reticle covers under 4×, 10×, 40× and 100×"
    >
      {SLIDES.map(({ words, length, finest }, row) => (
        <g key={words}>
          <rect
            x={x(finest)}
            y={70 + row * 50}
            width={x(length) - x(finest)}
            height={20}
            className={styles.body}
          />
          <text x={10} y={85 + row * 50} className={styles.wordsStart}>
            {words}
          </text>
        </g>
      ))}
      {COVERED.map(({ words, length }) => (
        <g key={words}>
          <line x1={x(length)} x2={x(length)} y1={44} y2={210} className={styles.mark} />
          <text x={x(length)} y={34} className={styles.words}>
            {words}
          </text>
        </g>
      ))}
      {[1, 10, 100, 1000, 10_000].map((at) => (
        <text key={at} x={x(at)} y={234} className={styles.number}>
          {at >= 1000 ? `${at / 1000} mm` : `${at} µm`}
        </text>
      ))}
      <text x={340} y={258} className={styles.soft}>
        a bar begins at the finest interval of a slide and ends at its length; a line is what 100 divisions
        cover
      </text>
    </svg>
  );
}
