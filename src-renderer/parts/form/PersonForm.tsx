import type { Person } from "#core/contract/records/person.ts";
import { NewPerson } from "#core/contract/records/person.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { FieldGrid } from "./FieldGrid.tsx";
import { FormFrame } from "./FormFrame.tsx";
import { problemsBySchema } from "./form-checks.ts";
import { NumberField } from "./NumberField.tsx";
import { TextField } from "./TextField.tsx";
import { useForm } from "./use-form.ts";

export interface PersonFormProps {
  readonly submit: string;
  readonly onSaved: (person: Person) => void;
  readonly onCancel?: (() => void) | undefined;
}

/** Registers a person. */
export function PersonForm({ submit, onSaved, onCancel }: PersonFormProps) {
  const client = useClient();
  const form = useForm({
    id: "person",
    what: "the person you began to register",
    initial: { name: "", initials: "", interpupillaryMm: "" },
    root: "person",
    check: (values) => problemsBySchema(NewPerson, values),
    send: (person, requestId) => client("people.register", { requestId, person }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Register a person" submit={submit} onCancel={onCancel}>
      <FieldGrid>
        <TextField {...form.bind("name", "Name")} autoFocus />
        <TextField {...form.bind("initials", "Initials")} optional hint="As they appear in reports." />
        <NumberField
          {...form.bind("interpupillaryMm", "Interpupillary distance")}
          optional
          unit="mm"
          hint="Distance between the pupils as set on the binocular head. On a head that is not compensated it changes the factor."
        />
      </FieldGrid>
    </FormFrame>
  );
}
