import type { Count } from "#core/contract/records/count.ts";
import type { CountInputs, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { inputsAskedBy } from "#core/counting/inputs/count-inputs.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { problemsOfInputs, problemsOfReason } from "./count-form.ts";

interface Values {
  readonly inputs: CountInputs;
  readonly reason: string;
}

export interface InputsFormProps {
  readonly count: Count;
  readonly definition: CountMethodDefinition;
  readonly onSaved: (count: Count) => void;
}

/** Changes inputs of area and density, with a reason; a factor that was missing is frozen now if there is one. */
export function InputsForm({ count, definition, onSaved }: InputsFormProps) {
  const client = useClient();
  const asked = inputsAskedBy(definition);
  const form = useForm<Values, Count>({
    id: `inputs-${count.id}`,
    what: "the changed inputs",
    initial: { inputs: count.inputs, reason: "" },
    check: ({ inputs, reason }) => ({ ...problemsOfInputs(inputs, definition), ...problemsOfReason(reason) }),
    send: ({ inputs, reason }, requestId) =>
      client("counts.changeInputs", {
        requestId,
        countId: count.id,
        inputs,
        reason: Reason.parse(reason),
      }),
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Save the inputs" label="Inputs of area and volume">
      {asked.length === 0 ? (
        <p>This method asks for none.</p>
      ) : (
        <FieldGrid>
          {asked.map(({ key, name, unit, required }) => (
            <NumberField
              key={key}
              {...form.bind(`inputs.${key}`, name)}
              unit={unit || undefined}
              optional={required ? "needed for a density" : true}
            />
          ))}
        </FieldGrid>
      )}
      <TextField {...form.bind("reason", "Reason")} />
    </FormFrame>
  );
}
