import type {
  AgreementReport,
  DimensionAgreement,
  SecondReading,
} from "#core/contract/records/second-reading.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { probabilityWords } from "#core/quantity/probability-words.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { PaperFoot } from "../../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../../parts/layout/PrintButton.tsx";
import { ScreenFrame } from "../../../parts/layout/ScreenFrame.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import type { SheetContext } from "../sheet-context.ts";

/** Differences of two readings to three significant digits. */
const small = (text: string): string => trueMinus(decimal(text).toSignificantDigits(3).toFixed());
/** One pair to 0.01 µm, so that the columns stand digit under digit. */
const fine = (text: string): string => trueMinus(formatToPlaces(decimal(text), 2));
const between = ({ lower, upper }: { lower: string; upper: string }): string =>
  `${small(lower)} … ${small(upper)}`;

/** How the two readers agree: what comes to light when a second reading is closed. */
export function AgreementPage({
  context,
  reading,
  report,
}: {
  context: SheetContext;
  reading: SecondReading;
  report: AgreementReport;
}) {
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const { sheet, method } = context;
  const dimension = (key: string): string =>
    method.definition.dimensions.find((one) => one.key === key)?.name ?? key;
  const drawn = reading.choice.kind !== "rows";
  return (
    <ScreenFrame
      title={`Agreement of two readings · ${sheet.number} · ${sheet.sample}`}
      lead="Second reading less first, µm; both converted with the calibration of the first."
      actions={
        <>
          <PrintButton />
          <Button onClick={() => navigation.go({ screen: "measure", sheetId: sheet.id })}>
            To the sheet
          </Button>
        </>
      }
    >
      <Facts
        facts={[
          ["Second reading", String(reading.number)],
          [
            "Second reader",
            nameOf(reading.reader) + (reading.sameReader ? ", who took first readings too" : ""),
          ],
          ["Closed", `${reading.closedAt ? shownDay(reading.closedAt) : ""} by ${nameOf(reading.closedBy)}`],
          ["Rows", `${reading.readCount} of ${reading.rowCount} read`],
          ["Chosen", drawn ? "by chance: lowest SHA-256 of seed and row" : "by their numbers"],
          ...(drawn ? ([["Seed", reading.id]] as const) : []),
        ]}
      />
      <DataTable
        caption="Agreement"
        columns={figures(dimension)}
        rows={report.dimensions}
        rowKey={(one) => one.dimension}
        empty="No dimension has two pairs of sizes: there is nothing to say of agreement."
      />
      <DataTable
        caption="Pairs"
        columns={[
          { key: "row", title: "Row", cell: (pair) => pair.ordinal, number: true, names: true },
          { key: "dimension", title: "Dimension", cell: (pair) => dimension(pair.dimension) },
          { key: "first", title: "First, µm", cell: (pair) => fine(pair.first), number: true },
          { key: "second", title: "Second, µm", cell: (pair) => fine(pair.second), number: true },
          {
            key: "difference",
            title: "Difference, µm",
            cell: (pair) => fine(pair.difference),
            number: true,
          },
        ]}
        rows={report.pairs.toSorted((a, b) => a.ordinal - b.ordinal)}
        rowKey={(pair) => `${pair.rowId} ${pair.dimension}`}
        empty="No row has two sizes."
      />
      {report.leftOut.length > 0 ? (
        <section aria-label="Left out">
          <h2>Left out</h2>
          <ul>
            {report.leftOut.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </section>
      ) : null}
      <PaperFoot asOf={reading.closedAt ?? reading.startedAt} />
    </ScreenFrame>
  );
}

function figures(dimension: (key: string) => string): readonly Column<DimensionAgreement>[] {
  return [
    { key: "dimension", title: "Dimension", cell: (one) => dimension(one.dimension), names: true },
    { key: "n", title: "n", cell: (one) => one.n, number: true },
    { key: "bias", title: "Mean difference, µm", cell: (one) => small(one.bias), number: true },
    {
      key: "interval",
      title: "its 95 % interval, µm",
      cell: (one) => between(one.biasInterval),
      number: true,
    },
    { key: "p", title: "p", cell: (one) => probabilityWords(one.p), number: true },
    { key: "s", title: "s of differences, µm", cell: (one) => small(one.deviation), number: true },
    { key: "limits", title: "Limits of agreement, µm", cell: (one) => between(one.limits), number: true },
    { key: "error", title: "Technical error, µm", cell: (one) => small(one.technicalError), number: true },
    {
      key: "relative",
      title: "relative, %",
      cell: (one) =>
        one.relativeTechnicalError === null
          ? "–"
          : small(decimal(one.relativeTechnicalError).times(100).toString()),
      number: true,
    },
  ];
}
