import { useState } from "react";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { CellVolumeForm } from "./CellVolumeForm.tsx";

interface CellVolumesDialogProps {
  readonly count: Count;
  readonly definition: CountMethodDefinition;
  readonly onChanged: (count: Count) => void;
  readonly onClose: () => void;
}

/** One taxon after the other gets its cell volume; a saved one leads on to the next without. */
export function CellVolumesDialog({ count, definition, onChanged, onClose }: CellVolumesDialogProps) {
  const taxa = count.categories.filter(({ kind, reported }) => kind === "object" || reported);
  const isGiven = (of: Count, key: string) => of.cellVolumes?.some((one) => one.category === key) ?? false;
  const nextOf = (of: Count) => taxa.find(({ key }) => !isGiven(of, key))?.key;
  const [chosen, choose] = useState(nextOf(count) ?? taxa[0]?.key ?? "");
  const category = taxa.find(({ key }) => key === chosen);
  return (
    <Dialog title="Volumes of the counted cells" onClose={onClose} wide>
      <SelectField
        id="cell-volume-taxon"
        label="Taxon"
        value={chosen}
        onChange={(key) => choose(key)}
        hint={`The volume is that of one counted unit: ${definition.countingUnit}.`}
        autoFocus
        choices={taxa.map(({ key, name }) => ({
          value: key,
          words: isGiven(count, key) ? `${name} (given)` : name,
        }))}
      />
      {category ? (
        <CellVolumeForm
          key={`${category.key} ${JSON.stringify(count.cellVolumes?.find((one) => one.category === category.key) ?? "")}`}
          count={count}
          category={category}
          onSaved={(next) => {
            onChanged(next);
            const following = nextOf(next);
            if (following === undefined || !isGiven(next, category.key)) return;
            choose(following);
            document.getElementById("cell-volume-taxon")?.focus();
          }}
        />
      ) : null}
    </Dialog>
  );
}
