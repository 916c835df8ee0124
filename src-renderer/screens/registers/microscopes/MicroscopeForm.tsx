import type { Microscope } from "#core/contract/records/microscope.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { MoreFields } from "../../../parts/form/MoreFields.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { EyepieceTable } from "./EyepieceTable.tsx";
import {
  EMPTY_EYEPIECE,
  EMPTY_MICROSCOPE,
  emptyObjective,
  fieldOfParts,
  microscopeInput,
  microscopeProblems,
} from "./microscope-form.ts";
import { ObjectiveTable } from "./ObjectiveTable.tsx";

export interface MicroscopeFormProps {
  readonly onSaved: (microscope: Microscope) => void;
  readonly onCancel: () => void;
}

const HEADS = [
  {
    value: "yes",
    words: "Compensated: setting the distance between the eyes leaves the tube length as it is.",
  },
  {
    value: "no",
    words: "Not compensated, or not known: the factor then belongs to the person's setting too.",
  },
] as const;

const MORE = ["maker", "model", "serial", "intermediateMagnifications"];

/** Registers a microscope with its turret and eyepieces in one go. */
export function MicroscopeForm({ onSaved, onCancel }: MicroscopeFormProps) {
  const client = useClient();
  const form = useForm({
    id: "microscope",
    what: "the microscope you began to register",
    initial: EMPTY_MICROSCOPE,
    root: "microscope",
    fieldOf: fieldOfParts,
    check: microscopeProblems,
    send: (typed, requestId) =>
      client("microscopes.register", { requestId, microscope: microscopeInput(typed) }),
    onSaved,
  });
  const { objectives, eyepieces } = form.values;
  return (
    <FormFrame form={form} label="Register a microscope" submit="Register" onCancel={onCancel}>
      <FieldGrid title="Stand">
        <TextField
          {...form.bind("name", "Name")}
          autoFocus
          hint="What people at the bench call it: “Stand A”, “by the window”."
        />
      </FieldGrid>
      <ChoiceField {...form.bind("headCompensated", "Binocular head")} choices={HEADS} />
      <ObjectiveTable
        count={objectives.length}
        bind={(row, key, label) => form.bind(`objectives.${row}.${key}`, label)}
        onAdd={() =>
          form.change((typed) => ({
            ...typed,
            objectives: [...typed.objectives, emptyObjective(typed.objectives.length + 1)],
          }))
        }
        onRemove={(row) =>
          form.change((typed) => ({ ...typed, objectives: withoutAt(typed.objectives, row) }))
        }
      />
      <EyepieceTable
        count={eyepieces.length}
        bind={(row, key, label) => form.bind(`eyepieces.${row}.${key}`, label)}
        onAdd={() => form.change((typed) => ({ ...typed, eyepieces: [...typed.eyepieces, EMPTY_EYEPIECE] }))}
        onRemove={(row) => form.change((typed) => ({ ...typed, eyepieces: withoutAt(typed.eyepieces, row) }))}
      />
      <MoreFields words="Maker, model, serial number, magnification changer" form={form} paths={MORE}>
        <FieldGrid>
          <TextField {...form.bind("maker", "Maker")} optional />
          <TextField {...form.bind("model", "Model")} optional />
          <TextField {...form.bind("serial", "Serial number")} optional />
          <TextField
            {...form.bind("intermediateMagnifications", "Intermediate magnifications besides 1×")}
            hint="Only for a stand with a changer, or a zoom with stops, between objective and eyepiece: 1.25 1.6 2. A factor belongs to each. Otherwise leave it empty."
          />
        </FieldGrid>
      </MoreFields>
    </FormFrame>
  );
}
