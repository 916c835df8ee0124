import type { PracticeClass } from "#core/contract/records/practice-class.ts";
import { classAdvice, classReport } from "#core/practice/class-report.ts";
import { type ClassCell, type ClassTable, classTables } from "#core/practice/class-tables.ts";
import { PRACTICE_CAUTION } from "#core/practice/practice-caution.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import { useCall } from "../../bridge/use-call.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { ClassPlot } from "./ClassPlot.tsx";
import styles from "./Practice.module.css";

/** What a class has shown: tables, plots, and who should practise what. */
export function ClassReportPanels({ of }: { of: PracticeClass }) {
  const attempts = useCall("practice.list", { personId: null });
  const readings = useCall("practice.slideReadings", { classId: of.id });
  const personName = usePersonName();
  if (!attempts.data || !readings.data) {
    return <CallNotice calls={[attempts, readings]} waiting="Reading the results of the class …" />;
  }
  const report = classReport(of, attempts.data, readings.data);
  const advice = classAdvice(report, personName);
  return (
    <>
      <Panel title="Practice: who should practise what">
        {report.exercises.length === 0 ? (
          <p>Nobody of the class has finished an exercise yet.</p>
        ) : advice.length === 0 ? (
          <p>Nothing stands out.</p>
        ) : (
          <ul>
            {advice.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
        <Notice kind="care">{PRACTICE_CAUTION}</Notice>
        <PaperFoot />
      </Panel>
      {classTables(report, personName).map((table) => {
        const plotted = report.exercises.find(
          ({ exercise }) => table.title === `Practice: ${exercise.title}`,
        );
        return (
          <Panel key={table.title} title={table.title}>
            <div className={styles.stack}>
              {table.words.map((line) => (
                <p key={line}>{line}</p>
              ))}
              <TableOf table={table} />
              {plotted ? <ClassPlot of={plotted} nameOf={personName} /> : null}
            </div>
          </Panel>
        );
      })}
    </>
  );
}

function cellWords(cell: ClassCell): string {
  if (cell === null) return "–";
  return typeof cell === "string" ? cell : printedNumber(formatToPlaces(cell.value, cell.places));
}

function TableOf({ table }: { table: ClassTable }) {
  return (
    <DataTable
      caption={table.title}
      captionHidden
      columns={table.columns.map(({ title, number = false }, at) => ({
        key: String(at),
        title,
        number,
        names: at === 0,
        cell: (row: { readonly cells: readonly ClassCell[] }) => cellWords(row.cells[at] ?? null),
      }))}
      rows={table.rows.map((cells, at) => ({ cells, key: String(at) }))}
      rowKey={({ key }) => key}
      empty=""
    />
  );
}
