import { useMemo, useState } from "react";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import {
  type BiovolumeLine,
  type BiovolumeSum,
  countBiovolumes,
  takesCellVolumes,
} from "#core/counting/results/count-biovolumes.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "./Biovolumes.module.css";
import { CellVolumesDialog } from "./CellVolumesDialog.tsx";

export interface BiovolumesProps {
  readonly count: Count;
  readonly results: CountResults;
  readonly definition: CountMethodDefinition;
  readonly onChanged: (count: Count) => void;
}

/** Biovolume and carbon of the counted taxa, their sums, and the way to their cell volumes. */
export function Biovolumes(props: BiovolumesProps) {
  const { count, results, definition, onChanged } = props;
  const [asking, setAsking] = useState(false);
  const { lines, sums, remarks } = useMemo(() => countBiovolumes(count, results), [count, results]);
  if (!takesCellVolumes(definition)) return null;
  return (
    <section aria-label="Biovolume and carbon">
      <h2>Biovolume and carbon</h2>
      {lines.length > 0 ? (
        <DataTable
          caption="Biovolume by taxon"
          captionHidden
          columns={COLUMNS}
          rows={[...lines.map(rowOfLine), ...sums.map(rowOfSum)]}
          rowKey={(row) => row.key}
          empty=""
        />
      ) : null}
      {remarks.map((remark) => (
        <p key={remark} className={styles.soft}>
          {remark}
        </p>
      ))}
      {count.cellVolumes?.some(({ of }) => of.from === "sheet") ? <Moved count={count} /> : null}
      <p>
        <Button onClick={() => setAsking(true)}>Cell volumes …</Button>
      </p>
      {asking ? (
        <CellVolumesDialog
          count={count}
          definition={definition}
          onChanged={onChanged}
          onClose={() => setAsking(false)}
        />
      ) : null}
    </section>
  );
}

/** Names the taxa whose sheet was changed since their volume was taken. */
function Moved({ count }: { count: Count }) {
  const moved = useCall("counts.movedCellVolumes", { countId: count.id }).data ?? [];
  if (moved.length === 0) return null;
  const names = count.categories.filter(({ key }) => moved.includes(key)).map(({ name }) => name);
  return (
    <p className={styles.moved}>
      <StateMark state="warn" /> Measured further since the volume was taken: {names.join(", ")}. Take it anew
      under “Cell volumes …”.
    </p>
  );
}

interface Row {
  readonly key: string;
  readonly name: string;
  readonly isSum: boolean;
  readonly cell: string;
  readonly volume: string;
  readonly carbon: string;
}

function rowOfLine({ category, name, cellShown, given, volume, carbon }: BiovolumeLine): Row {
  const cells = given.of.from === "sheet" ? ` (${countedNoun(given.of.cells, "cell")})` : " (typed)";
  return {
    key: category,
    name,
    isSum: false,
    cell: `${cellShown}${cells}`,
    volume: volume.shown,
    carbon: carbon?.shown ?? "",
  };
}

function rowOfSum({ group, volume, carbon }: BiovolumeSum): Row {
  return {
    key: `sum ${group ?? ""}`,
    name: group ?? "all of them",
    isSum: true,
    cell: "",
    volume: volume.shown,
    carbon: carbon?.shown ?? "",
  };
}

/** What stands in brackets goes on a line of its own. */
function Figure({ text }: { text: string }) {
  const [figure, behind] = text.split(/ (?=\()/);
  return (
    <>
      {figure}
      {behind ? <span className={styles.behind}>{behind}</span> : null}
    </>
  );
}

const COLUMNS: readonly Column<Row>[] = [
  {
    key: "name",
    title: "of, one cell ± U",
    cell: ({ name, isSum, cell }) => (
      <>
        {isSum ? <strong>{name}</strong> : name}
        {cell === "" ? null : <span className={styles.behind}>{cell}</span>}
      </>
    ),
    names: true,
  },
  {
    key: "amounts",
    title: "biovolume and carbon ± U",
    cell: ({ volume, carbon }) => (
      <>
        <Figure text={volume} />
        {carbon === "" ? null : (
          <span className={styles.next}>
            <Figure text={carbon} />
          </span>
        )}
      </>
    ),
    unbroken: true,
  },
];
