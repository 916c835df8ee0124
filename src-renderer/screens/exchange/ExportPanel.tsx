import { useState } from "react";
import { EXPORT_FORMATS, type ExportFormat, type Paper } from "#core/contract/records/exchange.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { ChoiceField } from "../../parts/form/ChoiceField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ownSettings } from "../../window/own-settings.ts";
import styles from "./Exchange.module.css";
import { ExportOutcome } from "./ExportOutcome.tsx";
import { useExport } from "./use-export.ts";

const FORMAT_WORDS: Readonly<Record<ExportFormat, string>> = {
  "live workbook": "Workbook with live formulas, for a reviewer",
  "values workbook": "Workbook with values only, for a customer",
  csv: "CSV, one line per dimension of each row",
  json: "JSON, every record with all it rests on",
};

/** One sheet or several of a job, as workbook, table or records. */
export function ExportPanel() {
  const sheets = useCall("sheets.list", {});
  const exporting = useExport();
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [format, setFormat] = useState<ExportFormat>("live workbook");
  const [paper, setPaper] = useState<Paper>(ownSettings().paper);
  const toggle = (id: string): void =>
    setChosen(chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id]);
  // In the order of the bench, oldest first, whatever the order of choosing.
  const sheetIds = [...(sheets.data ?? [])].reverse().flatMap(({ id }) => (chosen.includes(id) ? [id] : []));
  return (
    <Panel title="Export" lead="Several sheets of a job go into one file.">
      <div className={styles.stack}>
        <CallNotice calls={[sheets]} waiting="Reading the sheets …" />
        <fieldset>
          <legend>Sheets</legend>
          <div className={styles.sheets}>
            {(sheets.data ?? []).map((sheet) => (
              <label key={sheet.id} className={styles.sheet}>
                <input
                  type="checkbox"
                  checked={chosen.includes(sheet.id)}
                  onChange={() => toggle(sheet.id)}
                />
                <span className={styles.sheetNumber}>{sheet.number}</span>
                <span>{sheet.sample}</span>
                <span>· {countedNoun(sheet.rowCount, "row")}</span>
              </label>
            ))}
            {sheets.data?.length === 0 ? <p>No sheet has been opened yet.</p> : null}
          </div>
        </fieldset>
        <div className={styles.choices}>
          <ChoiceField
            id="export-format"
            label="As"
            value={format}
            onChange={(value) => setFormat(value as ExportFormat)}
            choices={EXPORT_FORMATS.map((value) => ({ value, words: FORMAT_WORDS[value] }))}
          />
          <ChoiceField
            id="export-paper"
            label="Paper of a workbook"
            value={paper}
            onChange={(value) => setPaper(value as Paper)}
            choices={[
              { value: "A4", words: "A4" },
              { value: "Letter", words: "Letter" },
            ]}
          />
        </div>
        <div className={styles.acts}>
          <Button
            look="main"
            disabled={sheetIds.length === 0 || exporting.busy}
            onClick={() =>
              void exporting.begin((client) => client("exports.begin", { sheetIds, format, paper }))
            }
          >
            {sheetIds.length > 1 ? `Export ${sheetIds.length} sheets` : "Export"}
          </Button>
        </div>
        <ExportOutcome view={exporting.view} cancel={exporting.cancel} />
      </div>
    </Panel>
  );
}
