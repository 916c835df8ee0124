import type { CallInput } from "#core/contract/calls.ts";
import type { TouchedCount } from "#core/contract/records/touched-count.ts";
import { useCall } from "../../bridge/use-call.ts";
import { toFour } from "../../parts/bench-words/figures.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { changeWords } from "./forward-words.ts";

interface Line {
  readonly key: string;
  readonly number: string;
  readonly sample: string;
  readonly state: string;
  readonly of: string;
  readonly before: string;
  readonly after: string;
  readonly change: string;
}

function linesOf({ count, densities, cellVolumes }: TouchedCount): Line[] {
  const base = { number: count.number, sample: count.sample, state: count.state };
  const changeOf = (change: string | null) => (change === null ? "–" : changeWords(change));
  const volumeOf = (volume: string | null) => (volume === null ? "–" : `${toFour(volume)} µm³`);
  const lines = [
    ...densities.map((one) => ({
      key: `${count.id} ${one.before.of} ${one.before.unit}`,
      of: `density: ${one.name}`,
      before: one.before.shown,
      after: one.after?.shown ?? "–",
      change: changeOf(one.relativeChange),
    })),
    ...cellVolumes.map((one) => ({
      key: `${count.id} cells ${one.category}`,
      of: `volume of a cell: ${one.name}`,
      before: volumeOf(one.before),
      after: volumeOf(one.after),
      change: changeOf(one.relativeChange),
    })),
  ];
  if (lines.length > 0) return lines.map((line) => ({ ...base, ...line }));
  return [{ ...base, key: count.id, of: "–", before: "no density yet", after: "–", change: "–" }];
}

const COLUMNS: readonly Column<Line>[] = [
  { key: "number", title: "Count", names: true, unbroken: true, cell: (one) => one.number },
  { key: "sample", title: "Sample", cell: (one) => one.sample },
  { key: "state", title: "State", cell: (one) => one.state },
  { key: "of", title: "What", cell: (one) => one.of },
  { key: "before", title: "As it stands", number: true, cell: (one) => one.before },
  { key: "after", title: "With the replacement", number: true, cell: (one) => one.after },
  { key: "change", title: "Change", number: true, cell: (one) => one.change },
];

/** Counts whose area or cells rest on a factor that the subject reaches. */
export function TouchedCounts({ scope }: { scope: CallInput<"counts.touchedBy"> }) {
  const touched = useCall("counts.touchedBy", scope);
  if (touched.data?.length === 0) return null;
  return (
    <Panel
      title="Affected counts"
      lead="Through the area of their fields the factor enters squared, through the width of a strip once; through cells measured with it cubed: give them anew when the sheet is re-evaluated."
    >
      <CallNotice calls={[touched]} waiting="Looking through the counts …" />
      {touched.data ? (
        <DataTable
          caption="Densities and cell volumes of counts"
          captionHidden
          columns={COLUMNS}
          rows={touched.data.flatMap(linesOf)}
          rowKey={(one) => one.key}
          empty="None."
        />
      ) : null}
    </Panel>
  );
}
