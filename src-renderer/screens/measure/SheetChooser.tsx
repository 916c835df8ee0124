import type { Sheet } from "#core/contract/records/sheet.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import type { Column } from "../../parts/layout/DataTable.tsx";
import { FoundRows } from "../../parts/layout/FoundRows.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./MeasureScreen.module.css";
import { NewSheetForm } from "./NewSheetForm.tsx";

/** The sheets of the bench, and the form that opens a new one. */
export function SheetChooser() {
  const navigation = useNavigation();
  const sheets = useCall("sheets.list", {});
  const methods = useCall("methods.list", {});
  const overview = useCall("bench.overview", {});
  const open = (sheetId: string): void => navigation.go({ screen: "measure", sheetId });
  const error = sheets.error ?? methods.error ?? overview.error;

  return (
    <ScreenFrame title="Measure" lead="A sheet holds the specimens of one sample, measured by one method.">
      {error ? <RefusalNotice error={error} /> : null}
      <div className={styles.chooser}>
        <Panel title="Go on with a sheet" lead="The newest first.">
          <FoundRows
            caption="Sheets"
            columns={columnsOf(open)}
            rows={sheets.data ?? []}
            rowKey={(sheet) => sheet.id}
            textOf={wordsOf}
            asksFor="number, sample or day"
            onFirst={(sheet) => open(sheet.id)}
            empty={sheets.data ? "No sheet has been opened on this bench yet." : "Fetching the sheets …"}
          />
        </Panel>
        {methods.data && overview.data ? (
          <NewSheetForm
            methods={methods.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            asksFirst={sheets.data?.length === 0}
            onOpened={(sheet) => open(sheet.id)}
          />
        ) : null}
      </div>
    </ScreenFrame>
  );
}

const wordsOf = ({ number, sample, openedAt }: Sheet): string =>
  `${number} ${sample} ${openedAt.slice(0, 10)}`;

function columnsOf(open: (sheetId: string) => void): readonly Column<Sheet>[] {
  return [
    {
      key: "number",
      title: "Sheet",
      unbroken: true,
      cell: (sheet) => (
        <Button
          look="quiet"
          aria-label={`Measure on sheet ${sheet.number}, ${sheet.sample}`}
          onClick={() => open(sheet.id)}
        >
          {sheet.number}
        </Button>
      ),
      names: true,
    },
    { key: "sample", title: "Sample", words: true, cell: sampleWords },
    { key: "opened", title: "Opened", cell: (sheet) => <Unbroken text={shownDay(sheet.openedAt)} /> },
    { key: "rows", title: "Rows", cell: (sheet) => sheet.rowCount, number: true },
  ];
}
