import type { CallInput } from "#core/contract/calls.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { NewSheet, type Sheet } from "#core/contract/records/sheet.ts";
import type { Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../parts/form/form-values.ts";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { firstPartsOf, TrainFields, type TrainValues } from "../../parts/form/TrainFields.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";

interface Values extends TrainValues {
  readonly sample: string;
  readonly customer: string;
  readonly note: string;
  readonly methodId: string;
}

export interface NewSheetFormProps {
  readonly methods: readonly Method[];
  readonly microscopes: readonly Microscope[];
  readonly onOpened: (sheet: Sheet) => void;
  /** Other words and another act than opening an empty sheet, such as opening one with imported rows. */
  readonly instead?: {
    readonly id: string;
    readonly title: string;
    readonly submit: string;
    readonly send: (sheet: CallInput<"sheets.open">["sheet"], requestId: string) => Promise<Reply<Sheet>>;
  };
}

function check(values: Values): FieldErrors {
  const empty: Partial<Record<keyof Values, string>> = {
    methodId: "is not chosen yet",
    microscopeId: "is not chosen yet",
    eyepieceId: "is not chosen yet",
    objectiveId: "is not chosen yet",
  };
  const missing = Object.entries(empty).filter(([key]) => values[key as keyof Values] === "");
  return {
    ...problemsBySchema(NewSheet.pick({ sample: true, customer: true, note: true }), pick(values)),
    ...Object.fromEntries(missing),
  };
}

const pick = ({ sample, customer, note }: Values) => ({ sample, customer, note });

export function NewSheetForm({ methods, microscopes, onOpened, instead }: NewSheetFormProps) {
  const client = useClient();
  const form = useForm<Values, Sheet>({
    id: instead?.id ?? "sheet",
    what: "the new sheet",
    initial: {
      sample: "",
      customer: "",
      note: "",
      methodId: methods[0]?.id ?? "",
      ...firstPartsOf(microscopes[0]),
    },
    check,
    send: (values, requestId) => {
      const sheet = {
        ...values,
        intermediateMagnification: values.intermediateMagnification as Sheet["intermediateMagnification"],
      };
      return instead ? instead.send(sheet, requestId) : client("sheets.open", { requestId, sheet });
    },
    root: "sheet",
    onSaved: onOpened,
  });
  if (methods.length === 0 || microscopes.length === 0) {
    return <Missing hasMethods={methods.length > 0} hasMicroscopes={microscopes.length > 0} />;
  }
  return (
    <Panel title={instead?.title ?? "Open a new sheet"}>
      <FormFrame
        form={form}
        submit={instead?.submit ?? "Open the sheet"}
        label={instead?.title ?? "Open a new sheet"}
      >
        <TextField {...form.bind("sample", "Sample")} hint="As it is to stand on the report." />
        <TextField
          {...form.bind("customer", "Customer")}
          optional
          hint="For whom it is measured, as it is to stand on the report."
        />
        <SelectField
          {...form.bind("methodId", "Method")}
          choices={methods.map((method) => ({
            value: method.id,
            words: `${method.definition.name}, version ${method.version}`,
          }))}
        />
        <TrainFields form={form} microscopes={microscopes} />
        <TextField {...form.bind("note", "Note")} lines={2} />
      </FormFrame>
    </Panel>
  );
}

function Missing({ hasMethods, hasMicroscopes }: { hasMethods: boolean; hasMicroscopes: boolean }) {
  const navigation = useNavigation();
  const go = (register: "microscopes" | "methods"): void =>
    navigation.go({ screen: "registers", register, recordId: null, form: "new" });
  return (
    <Panel title="Open a new sheet" lead="A sheet needs a microscope and a method; register these first.">
      {hasMicroscopes ? null : <Button onClick={() => go("microscopes")}>Register a microscope</Button>}{" "}
      {hasMethods ? null : <Button onClick={() => go("methods")}>Define a method</Button>}
    </Panel>
  );
}
