import type { GridStore } from "../../grid/grid-store.ts";
import { useLivePart } from "../../live/use-live-part.ts";
import type { LiveFigures } from "./live-figures.ts";
import styles from "./MeasureScreen.module.css";
import type { SheetContext } from "./sheet-context.ts";
import type { SummaryFeed } from "./summary-feed.ts";
import { dimensionAtCursor, labelAtCursor, useLiveFigures } from "./use-live-panel.ts";

export interface SummaryProps {
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly feed: SummaryFeed;
}

/** n, mean and s of the dimension at the cursor, of the label there and of all rows: while the panel is closed. */
export function SummaryHead({ store, context, feed }: SummaryProps) {
  const { definition } = context.method;
  const live = useLiveFigures(feed, {
    dimension: useLivePart(store, dimensionAtCursor),
    label: useLivePart(store, labelAtCursor),
    definition,
    wanted: "",
  });
  const name = definition.dimensions.find((one) => one.key === live.dimension)?.name;
  return (
    <section className={styles.summary} aria-label="Summary">
      <table className={styles.summaryTable}>
        <caption>{name}, µm</caption>
        <thead>
          <tr>
            <td />
            <th scope="col">n</th>
            <th scope="col">mean</th>
            <th scope="col">s</th>
          </tr>
        </thead>
        <tbody>
          {[...live.parts].reverse().map(({ label, figures }) => (
            <Line key={label ?? ""} title={label ?? "all"} of={figures} />
          ))}
        </tbody>
      </table>
      <Counted store={store} feed={feed} />
    </section>
  );
}

function Line({ title, of }: { title: string; of: LiveFigures | null }) {
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>{of?.n ?? 0}</td>
      <td>{of?.mean ?? "–"}</td>
      <td>{of?.s ?? "–"}</td>
    </tr>
  );
}

/** How far the sheet has been counted; nothing once it is. */
export function Counted({ store, feed }: Pick<SummaryProps, "store" | "feed">) {
  const total = useLivePart(store, (state) => state.total);
  const read = feed.summary.rows;
  return read < total ? (
    <p className={styles.small}>
      {read} of {total} rows counted …
    </p>
  ) : null;
}
