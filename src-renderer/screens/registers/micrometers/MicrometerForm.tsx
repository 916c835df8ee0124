import { SCALE_COVERS, type StageMicrometer, SUBSTRATES } from "#core/contract/records/stage-micrometer.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { MoreFields } from "../../../parts/form/MoreFields.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { EMPTY_MICROMETER, micrometerInput, micrometerProblems } from "./micrometer-form.ts";

export interface MicrometerFormProps {
  readonly onSaved: (micrometer: StageMicrometer) => void;
  readonly onCancel: () => void;
}

const MORE = ["maker", "cover", "keptAt"];

/** Registers a stage micrometer: the ruled slide, before its certificate. */
export function MicrometerForm({ onSaved, onCancel }: MicrometerFormProps) {
  const client = useClient();
  const form = useForm({
    id: "micrometer",
    what: "the stage micrometer you began to register",
    initial: EMPTY_MICROMETER,
    root: "micrometer",
    check: micrometerProblems,
    send: (typed, requestId) =>
      client("micrometers.register", { requestId, micrometer: micrometerInput(typed) }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Register a stage micrometer" submit="Register" onCancel={onCancel}>
      <FieldGrid>
        <TextField {...form.bind("name", "Name")} autoFocus hint="“1 mm in 100”, “the long one”." />
        <TextField
          {...form.bind("serial", "Serial number")}
          hint="As engraved on the slide; compare it with the certificate, not with the box."
        />
        <NumberField
          {...form.bind("scaleLengthMm", "Length of the scale")}
          unit="mm"
          placeholder="1"
          hint="The common one stands there. An inch slide counts in millimetres too: 0.1 in is 2.54 mm."
        />
        <NumberField
          {...form.bind("divisions", "Divisions")}
          placeholder="100"
          hint="Intervals between the first and the last line."
        />
        <SelectField
          {...form.bind("substrate", "Made of")}
          choices={SUBSTRATES.map((substrate) => ({ value: substrate, words: substrate }))}
          hint="Decides how much the scale grows with temperature."
        />
      </FieldGrid>
      <MoreFields words="Maker, cover glass, where it is kept" form={form} paths={MORE}>
        <FieldGrid>
          <TextField {...form.bind("maker", "Maker")} optional />
          <SelectField
            {...form.bind("cover", "Cover glass")}
            choices={SCALE_COVERS.map((cover) => ({ value: cover, words: cover }))}
            none="not recorded"
            hint="Whether one lies over the scale, as it does over most specimens."
            optional
          />
          <TextField
            {...form.bind("keptAt", "Kept at")}
            optional
            hint="Cupboard or drawer, where it lies now."
            source="ISO/IEC 17025:2017 6.4.13 d, from memory."
          />
        </FieldGrid>
      </MoreFields>
    </FormFrame>
  );
}
