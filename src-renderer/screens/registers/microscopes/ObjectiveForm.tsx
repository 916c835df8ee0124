import { IMMERSIONS, type Microscope, NewObjective } from "#core/contract/records/microscope.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { emptyObjective, objectiveInput } from "./microscope-form.ts";

export interface AddToMicroscopeProps {
  readonly microscope: Microscope;
  readonly onSaved: () => void;
  readonly onCancel: () => void;
}

/** Adds an objective to a turret. */
export function ObjectiveForm({ microscope, onSaved, onCancel }: AddToMicroscopeProps) {
  const client = useClient();
  const taken = objectivesOnTurret(microscope.objectives).map((one) => one.position);
  const free = Array.from({ length: 12 }, (_, index) => index + 1).find((place) => !taken.includes(place));
  const form = useForm({
    id: `objective-${microscope.id}`,
    what: "the objective you began to add",
    initial: emptyObjective(free ?? 1),
    root: "objective",
    check: (typed) => ({
      ...problemsBySchema(NewObjective, objectiveInput(typed)),
      ...(taken.includes(Number(typed.position))
        ? { position: `${typed.position} is taken by another objective` }
        : {}),
    }),
    send: (typed, requestId) =>
      client("microscopes.addObjective", {
        requestId,
        microscopeId: microscope.id,
        objective: objectiveInput(typed),
      }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Add an objective" submit="Add" onCancel={onCancel}>
      <FieldGrid>
        <NumberField {...form.bind("position", "Position on the turret")} autoFocus />
        <NumberField {...form.bind("magnification", "Magnification")} unit="×" />
        <NumberField {...form.bind("numericalAperture", "Numerical aperture")} optional />
        <SelectField
          {...form.bind("immersion", "Immersion")}
          choices={IMMERSIONS.map((immersion) => ({ value: immersion, words: immersion }))}
        />
        <TextField {...form.bind("serial", "Serial number")} optional />
      </FieldGrid>
    </FormFrame>
  );
}
