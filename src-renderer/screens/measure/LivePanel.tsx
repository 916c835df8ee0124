import { type ReactNode, useState } from "react";
import { useLivePart } from "../../live/use-live-part.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { LiveHistogram } from "./LiveHistogram.tsx";
import styles from "./LivePanel.module.css";
import { LiveSizeClasses, useLiveSizeClasses } from "./LiveSizeClasses.tsx";
import { type LiveFigures, wantedShare } from "./live-figures.ts";
import { Counted, type SummaryProps } from "./SummaryHead.tsx";
import {
  dimensionAtCursor,
  type LivePart,
  labelAtCursor,
  useLiveFigures,
  useLiveReport,
} from "./use-live-panel.ts";

/** Half-width of the mean asked for at first, %: common practice, no source. */
const FIRST_WANTED = "5";

/** What the sample says so far: of the label at the cursor and of all rows, in the dimension at the cursor. */
export function LivePanel({ store, context, feed }: SummaryProps) {
  const { definition } = context.method;
  const [wanted, setWanted] = useState(FIRST_WANTED);
  const label = useLivePart(store, labelAtCursor);
  const live = useLiveFigures(feed, {
    dimension: useLivePart(store, dimensionAtCursor),
    label,
    definition,
    wanted,
  });
  const report = useLiveReport(feed, label, definition);
  const bySize = useLiveSizeClasses(feed, definition);
  const name = definition.dimensions.find((one) => one.key === live.dimension)?.name ?? live.dimension;
  const pictured = live.parts[0];
  const isWanted = wantedShare(wanted) !== null;
  return (
    <aside className={styles.panel} aria-label="Statistics so far">
      <Figures parts={live.parts} name={name} percentiles={definition.percentiles} wanted={wanted} />
      <NumberField
        id="live-wanted"
        label="Target precision of the mean, ±"
        unit="%"
        value={wanted}
        onChange={setWanted}
        error={isWanted ? null : "must be a number above 0, at most 100"}
      />
      {pictured?.figures ? (
        <>
          <h2 className={styles.title}>
            {name}, {pictured.label ?? "all"}
          </h2>
          <LiveHistogram bars={pictured.figures.bars} title={`${name}, ${pictured.label ?? "all rows"}`} />
        </>
      ) : null}
      <LiveSizeClasses classes={bySize} />
      {report === null ? null : (
        <>
          <h2 className={styles.title}>Report string{report.of === null ? "" : `, ${report.of}`}</h2>
          <p className={styles.report}>{report.text}</p>
        </>
      )}
      <Counted store={store} feed={feed} />
    </aside>
  );
}

interface FiguresProps {
  readonly parts: readonly LivePart[];
  readonly name: string;
  readonly percentiles: { readonly lower: string; readonly upper: string };
  readonly wanted: string;
}

function Figures({ parts, name, percentiles, wanted }: FiguresProps) {
  const line = (title: string, show: (figures: LiveFigures) => ReactNode): ReactNode => (
    <tr key={title}>
      <th scope="row">{title}</th>
      {parts.map(({ label, figures }) => (
        <td key={label ?? ""}>{(figures && show(figures)) ?? "–"}</td>
      ))}
    </tr>
  );
  return (
    <table className={styles.figures}>
      <caption>{name}, µm</caption>
      <thead>
        <tr>
          <td />
          {parts.map(({ label }) => (
            <th key={label ?? ""} scope="col">
              {label ?? "all"}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {line("n", ({ n }) => n)}
        {line("mean", ({ mean }) => mean)}
        {line("s", ({ s }) => s)}
        {line("CV, %", ({ cv }) => cv)}
        {line("min–max", ({ range }) => range)}
        {line(`${percentiles.lower} %`, ({ percentiles: [lower] }) => lower)}
        {line("median", ({ percentiles: [, median] }) => median)}
        {line(`${percentiles.upper} %`, ({ percentiles: [, , upper] }) => upper)}
        {line("mean ± U", ({ meanWithU }) => meanWithU)}
        {line("mean, 95 %", ({ interval }) => interval)}
        {line(`still needed for ±${wanted} %`, ({ more }) => (more === 0 ? "enough" : more))}
      </tbody>
    </table>
  );
}
