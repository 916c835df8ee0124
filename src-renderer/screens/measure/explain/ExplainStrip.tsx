import { useCallback, useMemo, useState } from "react";
import { useCall } from "../../../bridge/use-call.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { useCommand } from "../../../window/use-command.tsx";
import type { Surroundings } from "../measured-dimension.ts";
import type { SummaryFeed } from "../summary-feed.ts";
import { BandPicture } from "./BandPicture.tsx";
import styles from "./explain.module.css";
import { FlagList } from "./FlagList.tsx";
import type { HistoryBand } from "./history-band.ts";
import { useExplainedRow } from "./use-explained-row.ts";

export interface ExplainStripProps {
  readonly store: GridStore;
  readonly feed: SummaryFeed;
  readonly around: Surroundings;
}

/** Beneath the grid: where earlier values of the label lie, and what the flags of the row at the cursor mean. */
export function ExplainStrip({ store, feed, around }: ExplainStripProps) {
  const people = useCall("people.list", {}).data;
  const nameOf = useCallback(
    (id: string | null): string =>
      id === null ? "nobody named" : (people?.find((one) => one.id === id)?.name ?? id),
    [people],
  );
  const { row, band } = useExplainedRow({ store, feed, around, nameOf });
  const names = useMemo(
    () => new Map(around.context.method.definition.dimensions.map((one) => [one.key, one.name])),
    [around],
  );
  const [isOpen, setOpen] = useState(false);
  useCommand("measure.explain", () => setOpen(true));
  return (
    <section className={styles.strip} aria-label="Flags and history of this row">
      <BandWords band={band} />
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it can be scrolled, so it must be reached by keyboard */}
      <section className={styles.scroll} tabIndex={0} aria-label={`Flags of row ${row.row}`}>
        <FlagList row={row} names={names} />
      </section>
      {isOpen ? (
        <Dialog
          title={`Row ${row.row}${row.label ? `, ${row.label}` : ""}: flags and history`}
          wide
          onClose={() => setOpen(false)}
        >
          <div className={styles.whole}>
            <FlagList row={row} names={names} />
            <BandWords band={band} />
          </div>
        </Dialog>
      ) : null}
    </section>
  );
}

function BandWords({ band }: { band: HistoryBand }) {
  const { title, elsewhere, here, live, note } = band;
  return (
    <div className={styles.history}>
      <p className={styles.title}>
        {title}, µm
        {live && (elsewhere || here) ? <span className={styles.liveWords}> ▲ {live.words}</span> : null}
      </p>
      <BandPicture band={band} />
      <dl className={styles.samples}>
        {elsewhere ? (
          <div>
            <dt>earlier</dt>
            <dd>{elsewhere.words}</dd>
          </div>
        ) : null}
        {here ? (
          <div>
            <dt>here</dt>
            <dd>{here.words}</dd>
          </div>
        ) : null}
      </dl>
      {note ? <p className={styles.none}>{note}</p> : null}
    </div>
  );
}
