import type { CallInput } from "#core/contract/calls.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { NewSheet, type Sheet } from "#core/contract/records/sheet.ts";
import type { Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { Caution } from "../../parts/Caution.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../parts/form/form-values.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import {
  isBatch,
  problemOfSamples,
  type SampleValues,
  SeveralSamples,
  samplesOf,
} from "../../parts/form/SeveralSamples.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { firstPartsOf, TrainFields, type TrainValues } from "../../parts/form/TrainFields.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { methodIdOf, type OfferedMethod, offeredMethods } from "./offered-methods.ts";

interface Values extends TrainValues, SampleValues {
  readonly customer: string;
  readonly containers?: string;
  readonly volume?: string;
  readonly portion?: string;
  readonly note: string;
  readonly methodId: string;
}

export interface NewSheetFormProps {
  readonly methods: readonly Method[];
  readonly microscopes: readonly Microscope[];
  readonly onOpened: (sheet: Sheet) => void;
  /** The form takes the focus: there is nothing to go on with. */
  readonly asksFirst?: boolean;
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
    ...problemsBySchema(
      NewSheet.pick({
        sample: true,
        customer: true,
        containers: true,
        volume: true,
        portion: true,
        note: true,
      }).partial(isBatch(values) ? { sample: true } : {}),
      isBatch(values) ? { ...pick(values), sample: undefined } : pick(values),
    ),
    ...problemOfSamples(values),
    ...Object.fromEntries(missing),
  };
}

const pick = ({ sample, customer, note, containers = "", volume = "", portion = "" }: Values) => ({
  sample,
  customer,
  containers,
  volume,
  portion,
  note,
});

export function NewSheetForm({
  methods,
  microscopes,
  onOpened,
  asksFirst = false,
  instead,
}: NewSheetFormProps) {
  const client = useClient();
  const offered = offeredMethods(methods);
  const find = (id: string): OfferedMethod | undefined => offered.find((one) => one.id === id);
  /** Without what is asked for by another method than the chosen one. */
  const asked = (values: Values): Values =>
    find(values.methodId)?.definition.sizeClasses
      ? values
      : { ...values, containers: "", volume: "", portion: "" };
  const form = useForm<Values, Sheet>({
    id: instead?.id ?? "sheet",
    what: "the new sheet",
    initial: {
      sample: "",
      samples: "",
      customer: "",
      containers: "",
      volume: "",
      portion: "",
      note: "",
      methodId: offered[0]?.id ?? "",
      ...firstPartsOf(microscopes[0]),
    },
    check: (values) => check(asked(values)),
    send: async (values, requestId) => {
      const method = find(values.methodId);
      if (!method) throw new Error("a sheet was sent without its method");
      const methodId = await methodIdOf(client, method, requestId);
      if (!methodId.ok) return methodId;
      const { samples: _, ...one } = asked(values);
      const sheet = {
        ...one,
        methodId: methodId.value,
        intermediateMagnification: values.intermediateMagnification as Sheet["intermediateMagnification"],
      };
      if (isBatch(values)) {
        const { sample: __, ...shared } = sheet;
        const opened = await client("sheets.openMany", {
          requestId,
          sheet: shared,
          samples: samplesOf(values),
        });
        return opened.ok ? { ok: true, value: opened.value[0] as Sheet } : opened;
      }
      return instead ? instead.send(sheet, requestId) : client("sheets.open", { requestId, sheet });
    },
    root: "sheet",
    onSaved: onOpened,
  });
  if (microscopes.length === 0) return <Missing />;
  const chosen = find(form.values.methodId);
  return (
    <Panel title={instead?.title ?? "Open a new sheet"}>
      <FormFrame
        form={form}
        submit={instead?.submit ?? "Open the sheet"}
        label={instead?.title ?? "Open a new sheet"}
      >
        <TextField
          {...form.bind("sample", "Sample")}
          autoFocus={asksFirst}
          hint="As it should appear in the report."
        />
        {instead ? null : <SeveralSamples form={form} what="sheet" />}
        <TextField
          {...form.bind("customer", "Customer")}
          optional
          hint="For whom it is measured, as it is to stand on the report."
        />
        <SelectField
          {...form.bind("methodId", "Method")}
          choices={offered.map(({ id, method, definition }) => ({
            value: id,
            words: method ? `${definition.name}, version ${method.version}` : `${definition.name} (ready)`,
          }))}
        />
        {chosen?.cautions.map((caution) => (
          <Caution key={caution}>{caution}</Caution>
        ))}
        {chosen?.definition.sizeClasses ? (
          <FieldGrid title="What the specimens come from">
            <NumberField
              {...form.bind("containers", "Containers pooled")}
              optional
              hint="It may be named later, in Records."
            />
            <NumberField {...form.bind("volume", "Volume tested, all together")} unit="mL" optional />
            <NumberField
              {...form.bind("portion", "Part of it looked at")}
              unit="%"
              optional
              hint="Of a filter or slide; empty: all of it."
            />
          </FieldGrid>
        ) : null}
        <TrainFields form={form} microscopes={microscopes} />
        <TextField {...form.bind("note", "Note")} lines={2} />
      </FormFrame>
    </Panel>
  );
}

function Missing() {
  const navigation = useNavigation();
  return (
    <Panel title="Open a new sheet" lead="A sheet needs a microscope: register it first.">
      <Button
        autoFocus
        onClick={() =>
          navigation.go({ screen: "registers", register: "microscopes", recordId: null, form: "new" })
        }
      >
        Register a microscope
      </Button>
    </Panel>
  );
}
