import type { CategoryList } from "#core/contract/records/category-list.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { inputsAskedBy } from "#core/counting/inputs/count-inputs.ts";
import { needsFactor } from "#core/counting/inputs/field-area.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { Caution } from "../../../parts/Caution.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { SeveralSamples } from "../../../parts/form/SeveralSamples.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { firstPartsOf, TrainFields } from "../../../parts/form/TrainFields.tsx";
import { type Form, useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import styles from "../CountTab.module.css";
import { EdgeRuleField } from "../methods/EdgeRuleField.tsx";
import { KeyFields } from "../methods/KeyFields.tsx";
import { type OfferedMethod, offeredMethods } from "../methods/offered-methods.ts";
import { type CountValues, categoriesFor, filledBy, problemsOfCount, sendCount } from "./count-form.ts";

export interface OpenCountFormProps {
  readonly methods: readonly CountMethod[];
  readonly lists: readonly CategoryList[];
  readonly microscopes: readonly Microscope[];
  readonly onOpened: (count: Count) => void;
  /** The form takes the focus: there is nothing to go on with. */
  readonly asksFirst: boolean;
}

/** Opens a count: what is counted, by which method, through which train, under which keys. */
export function OpenCountForm({ methods, lists, microscopes, onOpened, asksFirst }: OpenCountFormProps) {
  const client = useClient();
  const offered = offeredMethods(methods);
  const find = (id: string): OfferedMethod | undefined => offered.find((one) => one.id === id);
  const listOf = (id: string): CategoryList | undefined => lists.find((one) => one.id === id);
  const form = useForm<CountValues, Count>({
    id: "count",
    what: "the new count",
    initial: {
      sample: "",
      samples: "",
      customer: "",
      note: "",
      batch: "",
      listId: "",
      ...filledBy(offered[0], undefined),
      ...firstPartsOf(microscopes[0]),
    },
    check: (values) => problemsOfCount(values, find(values.offeredId)),
    send: (values, requestId) => {
      const chosen = find(values.offeredId);
      if (!chosen) throw new Error("a count was sent without its method");
      return sendCount(client, values, chosen, requestId);
    },
    root: "count",
    fieldOf: (path) => path.replace(/^train\./, ""),
    onSaved: onOpened,
  });
  const chosen = find(form.values.offeredId);
  return (
    <Panel title="Open a count">
      <FormFrame form={form} submit="Open the count" label="Open a count">
        <TextField
          {...form.bind("sample", "Sample")}
          autoFocus={asksFirst}
          hint="As it should appear in the report."
        />
        <SeveralSamples form={form} what="count" />
        <TextField
          {...form.bind("customer", "Customer")}
          optional
          hint="For whom it is counted, as it is to stand on the report."
        />
        <SelectField
          {...form.bind("offeredId", "Method")}
          choices={offered.map(({ id, method, definition }) => ({
            value: id,
            words: method ? `${definition.name}, version ${method.version}` : `${definition.name} (ready)`,
          }))}
          onChange={(id) =>
            form.change((values) => ({ ...values, ...filledBy(find(id), listOf(values.listId)) }))
          }
        />
        {lists.length > 0 ? (
          <SelectField
            {...form.bind("listId", "Categories")}
            choices={[
              { value: "", words: "those of the method" },
              ...lists.map(({ id, version, definition }) => ({
                value: id,
                words: `${definition.name}, version ${version}`,
              })),
            ]}
            onChange={(listId) =>
              form.change((values) => ({
                ...values,
                listId,
                categories: categoriesFor(find(values.offeredId), listOf(listId)),
              }))
            }
          />
        ) : null}
        {chosen ? (
          <MethodFields
            form={form}
            chosen={chosen}
            microscopes={microscopes}
            given={categoriesFor(chosen, listOf(form.values.listId)).length}
          />
        ) : null}
        <TextField {...form.bind("note", "Note")} lines={2} />
      </FormFrame>
    </Panel>
  );
}

function MethodFields({
  form,
  chosen,
  microscopes,
  given,
}: {
  form: Form<CountValues>;
  chosen: OfferedMethod;
  microscopes: readonly Microscope[];
  /** Categories of the method or list, which stay. */
  given: number;
}) {
  const { definition } = chosen;
  const asked = inputsAskedBy(definition);
  return (
    <>
      {definition.cautions.map((caution) => (
        <Caution key={caution}>{caution}</Caution>
      ))}
      <p className={styles.soft}>
        Counts: {definition.countingUnit}. Stops at: {definition.stopping.name}. Source: {definition.source} (
        {definition.standing}).
      </p>
      {needsFactor(definition) ? (
        <TrainFields form={form} microscopes={microscopes} title="Optical train" />
      ) : null}
      {asked.length > 0 ? (
        <FieldGrid title="Area and volume">
          {asked.map(({ key, name, unit, required }) => (
            <NumberField
              key={key}
              {...form.bind(`inputs.${key}`, name)}
              unit={unit || undefined}
              optional={required ? "needed for a density" : true}
            />
          ))}
        </FieldGrid>
      ) : null}
      {definition.density.kind === "marker" || definition.density.kind === "fibres" ? (
        <TextField
          {...form.bind("batch", "Batch")}
          optional
          hint="Of the marker tablets or of the filters."
        />
      ) : null}
      {definition.edgeRuleId === null ? null : (
        <EdgeRuleField
          value={form.values.edgeRuleId}
          onChange={(id) => form.set("edgeRuleId", id)}
          note={`Printed with the result. ${form.values.edgeRuleId === definition.edgeRuleId ? "" : "Another rule makes the next version of the method."}`}
        />
      )}
      <KeyFields
        id="form-count-key"
        categories={form.values.categories}
        fixed={given}
        onChange={(categories) => form.set("categories", categories)}
        error={form.problems.find(({ path }) => path.startsWith("categories"))?.reason}
      />
    </>
  );
}
