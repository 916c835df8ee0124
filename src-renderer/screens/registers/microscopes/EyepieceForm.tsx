import { NewEyepiece } from "#core/contract/records/microscope.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { EMPTY_EYEPIECE, eyepieceInput, fieldOfParts, problemsOfParts } from "./microscope-form.ts";
import type { AddToMicroscopeProps } from "./ObjectiveForm.tsx";

/** Adds an eyepiece with its reticle to a microscope. */
export function EyepieceForm({ microscope, onSaved, onCancel }: AddToMicroscopeProps) {
  const client = useClient();
  const form = useForm({
    id: `eyepiece-${microscope.id}`,
    what: "the eyepiece you began to add",
    initial: EMPTY_EYEPIECE,
    root: "eyepiece",
    fieldOf: fieldOfParts,
    check: (typed) => problemsOfParts(NewEyepiece, eyepieceInput(typed)),
    send: (typed, requestId) =>
      client("microscopes.addEyepiece", {
        requestId,
        microscopeId: microscope.id,
        eyepiece: eyepieceInput(typed),
      }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Add an eyepiece" submit="Add" onCancel={onCancel}>
      <FieldGrid title="Eyepiece">
        <TextField {...form.bind("name", "Name")} autoFocus />
        <NumberField {...form.bind("magnification", "Magnification")} optional unit="×" />
        <NumberField {...form.bind("fieldNumber", "Field number")} optional unit="mm" />
        <TextField {...form.bind("serial", "Serial number")} optional />
      </FieldGrid>
      <FieldGrid title="Its reticle">
        <NumberField
          {...form.bind("scaleLengthMm", "Length of the scale")}
          unit="mm"
          placeholder="10"
          hint="Often 10 mm; it is written on the disc or its box."
        />
        <NumberField {...form.bind("divisions", "Divisions")} placeholder="100" />
        <TextField {...form.bind("engraving", "Engraving")} optional />
      </FieldGrid>
    </FormFrame>
  );
}
