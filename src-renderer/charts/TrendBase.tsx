import { memo } from "react";
import { type EndLabel, PLOT, spreadLabels, type TrendLayout } from "./trend-layout.ts";
import type { ModelBaseline, ModelLine, TrendModel } from "./trend-model.ts";
import {
  checkPath,
  densePaths,
  errorBarPath,
  isDense,
  leftOutPath,
  markPaths,
  ringPath,
} from "./trend-paths.ts";
import styles from "./trends.module.css";

export interface TrendBaseProps {
  readonly model: TrendModel;
  readonly layout: TrendLayout;
}

const BOTTOM = PLOT.height - PLOT.bottom;
/** Above this, texts at single points would cover each other. */
const MOST_TEXTS = 40;

const linePath = ({ x, y }: TrendLayout, line: ModelLine): string =>
  `M${x(line.fromDay).toFixed(1)} ${y(line.from).toFixed(1)}L${x(line.toDay).toFixed(1)} ${y(line.to).toFixed(1)}`;

/** Everything of the chart but the point that is read out; drawn anew only when window, width or data change. */
export const TrendBase = memo(function TrendBase({ model, layout }: TrendBaseProps) {
  const { x, y, range, width } = layout;
  const right = width - PLOT.right;
  return (
    <>
      <clipPath id="trend-plot">
        <rect x={PLOT.left} y={PLOT.top - 12} width={right - PLOT.left} height={BOTTOM - PLOT.top + 12} />
      </clipPath>
      <Axes model={model} layout={layout} />
      <g clipPath="url(#trend-plot)">
        <Tolerance model={model} layout={layout} />
        {model.baselines.map((baseline) => (
          <Limits key={baseline.fromDay} baseline={baseline} layout={layout} />
        ))}
        <DriftLine model={model} layout={layout} />
        <Breaks model={model} layout={layout} />
        <path className={styles.check} d={checkPath(model, true, x, y)} />
        <path className={styles.failed} d={checkPath(model, false, x, y)} />
        {isDense(range) ? (
          <DensePoints model={model} layout={layout} />
        ) : (
          <Points model={model} layout={layout} />
        )}
        <path className={styles.leftOut} d={leftOutPath(model, range, x, y)} />
      </g>
      <EndLabels model={model} layout={layout} />
    </>
  );
});

function Points({ model, layout }: TrendBaseProps) {
  const { x, y, range } = layout;
  return (
    <>
      <path className={styles.bars} d={errorBarPath(model, range, x, y)} />
      {markPaths(model, range, x, y).map((path, kind) => (
        <path
          key={`${model.kinds[kind]?.person} ${model.kinds[kind]?.micrometer}`}
          className={styles.mark}
          data-fill={(model.kinds[kind]?.fill ?? 0) % 3}
          d={path}
        />
      ))}
      <path className={styles.ring} d={ringPath(model, range, x, y)} />
      <PointTexts model={model} layout={layout} />
    </>
  );
}

function DensePoints({ model, layout }: TrendBaseProps) {
  const { bars, dots, fired } = densePaths(model, layout.range, layout.x, layout.y, PLOT.top - 10);
  return (
    <>
      <path className={styles.bars} d={bars} />
      <path className={styles.dots} d={dots} />
      <path className={styles.failed} d={fired} />
    </>
  );
}

function Axes({ model, layout }: TrendBaseProps) {
  const { x, y, xTicks, yTicks, width } = layout;
  const right = width - PLOT.right;
  const grid = yTicks.map(({ value }) => `M${PLOT.left} ${y(value).toFixed(1)}H${right}`).join("");
  return (
    <>
      <path className={styles.grid} d={grid} />
      <path className={styles.axis} d={`M${PLOT.left} ${PLOT.top - 12}V${BOTTOM}H${right}`} />
      {yTicks.map(({ value, words }) => (
        <text key={words} className={styles.axisText} data-end="" x={PLOT.left - 8} y={y(value)} dy="0.34em">
          {words}
        </text>
      ))}
      {xTicks.map(({ day, words }) => (
        <g key={day} transform={`translate(${x(day).toFixed(1)} ${BOTTOM})`}>
          <path className={styles.axis} d="M0 0v6" />
          <text className={styles.axisText} y="21">
            {words}
          </text>
        </g>
      ))}
      <text className={styles.axisText} transform={`translate(15 ${(BOTTOM + PLOT.top) / 2}) rotate(-90)`}>
        {model.unit === "percent" ? "change from the baseline’s first factor, %" : "factor, µm/div"}
      </text>
      <text className={styles.axisText} x={(PLOT.left + right) / 2} y={PLOT.height - 8}>
        date of calibration
      </text>
    </>
  );
}

function Tolerance({ model, layout }: TrendBaseProps) {
  if (!model.tolerance) return null;
  const { x, y, width } = layout;
  const { lower, upper, fromDay } = model.tolerance;
  const left = Math.max(PLOT.left, x(fromDay));
  const right = width - PLOT.right;
  const top = Math.max(0, y(upper));
  const bottom = Math.min(PLOT.height, y(lower));
  return (
    <>
      <rect
        className={styles.tolerance}
        x={left}
        y={top}
        width={Math.max(0, right - left)}
        height={Math.max(0, bottom - top)}
      />
      <path
        className={styles.toleranceEdge}
        d={`M${left} ${y(upper)}H${right}M${left} ${y(lower)}H${right}`}
      />
      <path className={styles.nominal} d={`M${PLOT.left} ${y(model.nominal)}H${right}`} />
    </>
  );
}

function Limits({ baseline, layout }: { baseline: ModelBaseline; layout: TrendLayout }) {
  const paths = (lines: readonly ModelLine[]): string => lines.map((line) => linePath(layout, line)).join("");
  return (
    <>
      <path className={styles.centre} d={linePath(layout, baseline.centre)} />
      <path className={styles.warning} d={paths(baseline.warning)} />
      <path className={styles.action} d={paths(baseline.action)} />
    </>
  );
}

function DriftLine({ model, layout }: TrendBaseProps) {
  const { drift } = model;
  if (!drift?.established) return null;
  const { x, y } = layout;
  const days = drift.band.map(({ day, upper }) => `${x(day).toFixed(1)} ${y(upper).toFixed(1)}`);
  const back = drift.band.map(({ day, lower }) => `${x(day).toFixed(1)} ${y(lower).toFixed(1)}`).reverse();
  const last = drift.band.at(-1);
  const ahead = last && last.day > drift.toDay ? `L${x(last.day)} ${y((last.lower + last.upper) / 2)}` : "";
  return (
    <>
      <path className={styles.driftBand} d={`M${[...days, ...back].join("L")}Z`} />
      <path className={styles.drift} d={`${linePath(layout, drift)}${ahead}`} />
    </>
  );
}

function Breaks({ model, layout }: TrendBaseProps) {
  const shown = model.breaks.filter(
    ({ day }) => layout.x(day) >= PLOT.left && layout.x(day) <= layout.width - PLOT.right,
  );
  return (
    <>
      <path
        className={styles.break}
        d={shown.map(({ day }) => `M${layout.x(day).toFixed(1)} ${PLOT.top + 4}V${BOTTOM}`).join("")}
      />
      {flagsOf(shown.slice(0, MOST_TEXTS), layout).map(({ words, px }) => (
        <text key={words} className={styles.flag} x={px} y={PLOT.top}>
          {words}
        </text>
      ))}
    </>
  );
}

const FLAG_ROOM = 16;

/** Letters of events, those too close to stand apart joined. */
function flagsOf(breaks: TrendModel["breaks"], { x }: TrendLayout): { words: string; px: number }[] {
  const flags: { words: string; px: number; last: number }[] = [];
  for (const { day, letter } of breaks) {
    const before = flags.at(-1);
    const px = x(day);
    if (before && px - before.last < FLAG_ROOM) {
      before.words += ` ${letter}`;
      before.last = px;
    } else flags.push({ words: letter, px, last: px });
  }
  return flags;
}

/** `Ada Example` → `AE`. */
function initialsOf(person: string): string {
  return person
    .split(/\s+/)
    .filter((word) => /^\p{L}/u.test(word))
    .map((word) => word.charAt(0))
    .join("")
    .slice(0, 3);
}

/** The rules that fire, above their points; who calibrated, along the foot. */
function PointTexts({ model, layout }: TrendBaseProps) {
  const { x, y, range } = layout;
  const places = Array.from({ length: range[1] - range[0] }, (_, at) => range[0] + at);
  const fired = places.filter((at) => model.rules[at]);
  const room = (layout.width - PLOT.left - PLOT.right) / Math.max(1, places.length);
  const people = places.length <= MOST_TEXTS && room > 22 ? places : [];
  const dayOf = (at: number): number => x(model.days[at] ?? 0);
  return (
    <>
      {(fired.length <= MOST_TEXTS ? fired : []).map((at) => (
        <text
          key={at}
          className={styles.rule}
          x={dayOf(at)}
          y={y((model.values[at] ?? 0) + (model.halves[at] ?? 0)) - 7}
        >
          {model.rules[at]}
        </text>
      ))}
      {people.map((at) => (
        <text key={at} className={styles.person} x={dayOf(at)} y={BOTTOM - 6}>
          {initialsOf(model.kinds[model.kindOf[at] ?? 0]?.person ?? "")}
        </text>
      ))}
    </>
  );
}

function labelsOf({ model, layout }: TrendBaseProps): EndLabel[] {
  const last = model.baselines.at(-1);
  const labels: EndLabel[] = [];
  const add = (words: string, value: number | undefined): void => {
    if (value === undefined || value < layout.span[0] || value > layout.span[1]) return;
    labels.push({ words, at: layout.y(value) });
  };
  add(model.drift?.established ? "drift line" : "mean", last?.centre.to);
  for (const line of last?.warning ?? []) add("warning", line.to);
  for (const line of last?.action ?? []) add("action", line.to);
  add("nominal", model.nominal);
  add("tolerance", model.tolerance?.upper);
  add("tolerance", model.tolerance?.lower);
  return labels;
}

function EndLabels(props: TrendBaseProps) {
  const x = props.layout.width - PLOT.right + 8;
  return spreadLabels(labelsOf(props), 16, BOTTOM).map(({ words, y, at }) => (
    <text key={`${words} ${at}`} className={styles.endText} x={x} y={y} dy="0.34em">
      {words}
    </text>
  ));
}
