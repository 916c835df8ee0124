import { scaleLinear } from "d3-scale";
import { useId } from "react";
import { trueMinus } from "#core/quantity/printed-number.ts";
import styles from "./charts.module.css";
import { evenDomain } from "./residual-domain.ts";

export interface Residual {
  /** Number of the setting as the person sees it. */
  readonly setting: number;
  /** Reticle interval, div. */
  readonly span: number;
  /** Reading less what the factor gives, div. */
  readonly residual: number;
}

export interface ResidualPlotProps {
  readonly residuals: readonly Residual[];
  readonly reticleDivisions: number;
  /** Smallest fraction read, div: residuals within it are no more than reading. */
  readonly band: number;
}

const WIDTH = 560;
const HEIGHT = 220;
const LEFT = 78;
const BOTTOM = 40;
const TOP = 12;

/** What each setting leaves over when the factor is taken out, against the span read. */
export function ResidualPlot({ residuals, reticleDivisions, band }: ResidualPlotProps) {
  const id = useId();
  const x = scaleLinear([0, reticleDivisions], [LEFT, WIDTH - 14]);
  const y = scaleLinear(
    evenDomain(
      residuals.map((one) => one.residual),
      Math.max(band * 1.5, 0.05),
    ),
    [HEIGHT - BOTTOM, TOP],
  );
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.plot}
    >
      <title id={`${id}-t`}>Residuals of the settings</title>
      <desc id={`${id}-d`}>
        {residuals
          .map((one) => `Setting ${one.setting}: ${trueMinus(one.residual.toFixed(3))} divisions.`)
          .join(" ")}
      </desc>
      <rect
        className={styles.band}
        x={LEFT}
        width={WIDTH - 14 - LEFT}
        y={y(band)}
        height={Math.max(0, y(-band) - y(band))}
      />
      <path className={styles.axis} d={`M${LEFT} ${TOP}V${HEIGHT - BOTTOM}H${WIDTH - 14}`} />
      <path className={styles.zero} d={`M${LEFT} ${y(0)}H${WIDTH - 14}`} />
      {y.ticks(5).map((tick) => (
        <g key={tick} transform={`translate(${LEFT} ${y(tick)})`}>
          <path className={styles.axis} d="M-5 0h5" />
          <text className={styles.axisText} data-axis="y" x="-9" dy="0.34em">
            {trueMinus(tick.toFixed(2).replace(/^-(?=0\.00$)/, ""))}
          </text>
        </g>
      ))}
      {x.ticks(5).map((tick) => (
        <g key={tick} transform={`translate(${x(tick)} ${HEIGHT - BOTTOM})`}>
          <path className={styles.axis} d="M0 0v5" />
          <text className={styles.axisText} y="19">
            {tick}
          </text>
        </g>
      ))}
      <text className={styles.axisText} x={(LEFT + WIDTH) / 2} y={HEIGHT - 4}>
        span, div
      </text>
      <text
        className={styles.axisText}
        transform={`translate(13 ${(HEIGHT - BOTTOM + TOP) / 2}) rotate(-90)`}
      >
        residual, div
      </text>
      {residuals.map((one) => (
        <g key={one.setting} transform={`translate(${x(one.span)} ${y(one.residual)})`}>
          <circle className={styles.point} r="5" />
          <text className={styles.pointText} x="9" dy="-0.4em">
            {one.setting}
          </text>
        </g>
      ))}
    </svg>
  );
}
