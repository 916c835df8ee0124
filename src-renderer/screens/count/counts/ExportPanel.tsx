import type { ExportFormat } from "#core/contract/records/exchange.ts";
import { Button } from "../../../parts/Button.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../../parts/layout/PrintButton.tsx";
import { ownSettings } from "../../../window/own-settings.ts";
import { ExportOutcome } from "../../exchange/ExportOutcome.tsx";
import { useExport } from "../../exchange/use-export.ts";
import styles from "../CountTab.module.css";

const FORMATS: readonly (readonly [format: ExportFormat, words: string])[] = [
  ["live workbook", "Workbook"],
  ["values workbook", "Values only"],
  ["csv", "CSV of fields"],
  ["json", "JSON with every press"],
];

/** A count on its way out: workbook with live formulas, a copy with values, a table, all records, or paper. */
export function ExportPanel({
  countId,
  isDrawing,
}: {
  countId: string;
  /** Pictures of the page are still being drawn: it cannot be printed yet. */
  isDrawing: boolean;
}) {
  const { view, busy, begin, cancel } = useExport();
  return (
    <Panel title="Export" lead="Densities in the workbook are formulas: change a count and they follow.">
      <div className={styles.stack}>
        <span className={styles.acts} data-screen-only>
          {FORMATS.map(([format, words]) => (
            <Button
              key={format}
              disabled={busy}
              onClick={() =>
                void begin((client) =>
                  client("counts.export", { countId, format, paper: ownSettings().paper }),
                )
              }
            >
              {words}
            </Button>
          ))}
          <PrintButton disabled={isDrawing} />
        </span>
        <ExportOutcome view={view} cancel={cancel} />
        <PaperFoot />
      </div>
    </Panel>
  );
}
