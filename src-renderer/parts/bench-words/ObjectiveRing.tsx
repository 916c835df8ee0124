import { objectiveRing } from "#core/optics/objective-ring.ts";
import { decimal } from "#core/quantity/decimal.ts";
import styles from "./ObjectiveRing.module.css";

export interface ObjectiveRingProps {
  readonly magnification: string;
  readonly numericalAperture?: string | null;
  /** `large` stands above a grid, `small` in a table row. */
  readonly size?: "large" | "small";
  /** Leaves the words out where they stand beside it already. */
  readonly wordless?: boolean;
}

/** An objective by its magnification ring: colour, magnification inside it, and the colour's word. */
export function ObjectiveRing(props: ObjectiveRingProps) {
  const { magnification, numericalAperture, size = "small", wordless = false } = props;
  const colour = objectiveRing(decimal(magnification));
  const label = `${magnification}×${numericalAperture ? `/${numericalAperture}` : ""}, ${colour} ring`;
  return (
    <span className={styles.objective} data-size={size}>
      <svg
        className={styles.drawing}
        viewBox="0 0 60 60"
        role={wordless ? "img" : undefined}
        aria-label={wordless ? label : undefined}
        aria-hidden={wordless ? undefined : true}
      >
        <RingDrawing x={30} y={30} magnification={magnification} />
      </svg>
      {wordless ? null : (
        <span className={styles.words}>
          <span className={styles.optics}>
            {magnification}×{numericalAperture ? ` / ${numericalAperture}` : ""}
          </span>
          <span className={styles.colour}>{colour} ring</span>
        </span>
      )}
    </span>
  );
}

/** The drawing alone, 56 units across, for use inside a larger SVG. */
export function RingDrawing({ x, y, magnification }: { x: number; y: number; magnification: string }) {
  const colour = objectiveRing(decimal(magnification)).replace(" ", "-");
  return (
    <g transform={`translate(${x} ${y})`}>
      <circle className={styles.barrel} r="28" />
      <circle className={styles.ring} data-colour={colour} r="22.5" />
      <circle className={styles.rim} r="26.5" />
      <circle className={styles.rim} r="18.5" />
      <text className={styles.number} dy="0.36em" data-long={magnification.length > 2}>
        {magnification}
      </text>
    </g>
  );
}
