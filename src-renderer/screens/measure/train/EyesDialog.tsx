import { type Eyes, GLASSES } from "#core/contract/records/eyes.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Dialog } from "../../../parts/layout/Dialog.tsx";

const NOT_SAID: Eyes = { dioptre: "", sleeve: "", glasses: "not said" };

export interface EyesDialogProps {
  readonly sheet: Sheet;
  readonly objectiveId: string;
  readonly person: Person | null;
  /** As this person had them at this train last. */
  readonly eyes: Eyes | null;
  readonly onConfirmed: () => void;
  readonly onClose: () => void;
}

/** Dioptre, sleeve and glasses of the person at the train in use; saving them confirms the train. */
export function EyesDialog(props: EyesDialogProps) {
  return (
    <Dialog title="Your eyes at this train" answersClose onClose={props.onClose}>
      <EyesForm {...props} />
    </Dialog>
  );
}

function EyesForm({ sheet, objectiveId, person, eyes, onConfirmed, onClose }: EyesDialogProps) {
  const client = useClient();
  const { dioptre, sleeve, glasses } = eyes ?? NOT_SAID;
  const form = useForm<Eyes, Sheet>({
    id: `eyes-${sheet.id}-${objectiveId}-${person?.id ?? ""}`,
    what: "dioptre, sleeve and glasses",
    initial: { dioptre, sleeve, glasses },
    check: (typed) =>
      problemsOfNumbers([
        ["dioptre", typed.dioptre, { optional: true }],
        ["sleeve", typed.sleeve, { optional: true, sign: "not negative" }],
      ]),
    root: "eyes",
    send: (typed, requestId) =>
      client("sheets.confirmTrain", {
        requestId,
        sheetId: sheet.id,
        objectiveId,
        intermediateMagnification: sheet.intermediateMagnification,
        interpupillary: person?.interpupillaryMm ?? "",
        eyes: typed,
      }),
    onSaved: onConfirmed,
  });
  return (
    <FormFrame
      form={form}
      label="Your eyes at this train"
      submit="Confirm the train with these"
      onCancel={onClose}
    >
      <p>
        Kept for {person?.name ?? "you"} and this train, and shown whenever you confirm it. A sleeve that was
        moved since the calibration can change the factor: check the train before you measure.
      </p>
      <FieldGrid>
        <NumberField {...form.bind("dioptre", "Dioptre of the reticle eyepiece")} optional autoFocus />
        <NumberField {...form.bind("sleeve", "Sleeve or draw tube")} unit="mm" optional />
        <SelectField
          {...form.bind("glasses", "Glasses")}
          choices={GLASSES.map((one) => ({ value: one, words: one }))}
        />
      </FieldGrid>
    </FormFrame>
  );
}
