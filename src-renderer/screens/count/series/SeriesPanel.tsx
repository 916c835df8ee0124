import type { Count, CountOfSeries } from "#core/contract/records/count.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type ChartedCount, countChart } from "#core/trends/count-chart.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { SeriesPlot } from "./SeriesPlot.tsx";

/** Fewer give limits that say nothing; a choice. */
const LEAST = 3;

interface Row {
  readonly count: CountOfSeries;
  readonly charted: ChartedCount;
}

/**
 * The closed counts of the same sample by the same method, as blanks and control samples are: objects per field with the
 * limits that chance gives.
 */
export function SeriesPanel({ count }: { count: Count }) {
  const all = useCall("counts.sameSample", { countId: count.id }).data ?? [];
  const counts = all.filter(({ fields }) => fields > 0);
  if (counts.length < LEAST) return null;
  const chart = countChart(counts.map(({ total, fields }) => ({ objects: decimal(total), areas: fields })));
  const rows = counts.flatMap((one, i): Row[] => {
    const charted = chart.points[i];
    return charted ? [{ count: one, charted }] : [];
  });
  const outside = rows.filter(({ charted }) => charted.isOutside);
  const clustered = counts.some(({ isClustered }) => isClustered);
  return (
    <Panel
      title={`Series of ${count.sample}`}
      lead="Closed counts of a sample of this name by this method: blanks, control samples."
    >
      <SeriesPlot
        title="Objects per field, count by count"
        description={`${countedNoun(rows.length, "count")}, ${chart.centre.toSignificantDigits(3).toFixed()} objects per field in the mean; ${outside.length} beyond the limits.`}
        points={rows.map(({ count: { number }, charted: { rate, limits, isOutside } }) => ({
          name: number,
          value: rate.toNumber(),
          limits: { lower: limits.lower.toNumber(), upper: limits.upper.toNumber() },
          isOutside,
        }))}
        centre={chart.centre.toNumber()}
      />
      <p>{outsideWords(outside.map(({ count: { number } }) => number))}</p>
      {clustered ? (
        <p>
          Objects cluster in some of these counts: the limits are then too narrow, and a count may lie beyond
          them with nothing wrong.
        </p>
      ) : null}
      <DataTable
        caption="Counts of this series"
        captionHidden
        columns={COLUMNS}
        rows={rows}
        rowKey={({ count: { id } }) => id}
        current={count.id}
        empty=""
      />
    </Panel>
  );
}

function outsideWords(numbers: readonly string[]): string {
  const limits = "the limits ū ± 3√(ū/n), and rarer than 3σ by Poisson’s law";
  if (numbers.length === 0) return `None lies beyond ${limits}.`;
  return `Beyond ${limits}: ${numbers.join(", ")}.`;
}

const COLUMNS: readonly Column<Row>[] = [
  { key: "number", title: "Count", cell: ({ count }) => count.number, names: true, unbroken: true },
  { key: "day", title: "Closed", cell: ({ count }) => shownDay(count.closedAt), unbroken: true },
  { key: "total", title: "objects", cell: ({ count }) => count.total, number: true },
  { key: "fields", title: "fields", cell: ({ count }) => count.fields, number: true },
  {
    key: "rate",
    title: "per field",
    cell: ({ charted }) => charted.rate.toSignificantDigits(3).toFixed(),
    number: true,
  },
  {
    key: "limits",
    title: "limits",
    cell: ({ charted: { limits, isOutside } }) =>
      `${limits.lower.toSignificantDigits(3).toFixed()} to ${limits.upper.toSignificantDigits(3).toFixed()}${isOutside ? ": beyond" : ""}`,
  },
];
