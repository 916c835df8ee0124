import { useState } from "react";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import { categoriesOfList } from "#core/counting/lists/categories-of-list.ts";
import { FIBRE_RULES } from "#core/methods/fibre-rules.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { EXERCISE_CHOICES } from "../../../parts/bench-words/exercise-choices.ts";
import { ChecksField } from "../../../parts/form/ChecksField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { type Form, useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { DensityLimitFields } from "./DensityLimitFields.tsx";
import { EdgeRuleField } from "./EdgeRuleField.tsx";
import { KeyFields } from "./KeyFields.tsx";
import {
  definitionOf,
  fieldOfPath,
  isOwnVessel,
  type MethodValues,
  problemsOfMethod,
  valuesOfMethod,
  vesselChoices,
} from "./method-draft.ts";
import type { OfferedMethod } from "./offered-methods.ts";
import { StopFields } from "./StopFields.tsx";

export interface MethodFormProps {
  readonly offered: OfferedMethod;
  readonly onSaved: (method: CountMethod) => void;
  readonly onCancel: () => void;
}

/** Makes a method of the laboratory's own: the next version of one it has, or one made from a ready method. */
export function MethodForm({ offered, onSaved, onCancel }: MethodFormProps) {
  const client = useClient();
  const { method, definition } = offered;
  const form = useForm<MethodValues, CountMethod>({
    id: `count-method-${offered.id.replace(" ", "-")}`,
    what: "the count method",
    initial: valuesOfMethod(definition),
    check: (values) => problemsOfMethod(values, definition),
    send: (values, requestId) =>
      client("countMethods.define", {
        requestId,
        familyId: method?.familyId ?? null,
        definition: definitionOf(values, definition),
      }),
    root: "definition",
    fieldOf: fieldOfPath,
    onSaved,
  });
  return (
    <Panel
      title={method ? `The next version of ${definition.name}` : `A method made from ${definition.name}`}
      lead="Counts keep the version they were opened by."
    >
      <FormFrame form={form} submit="Save the method" label="Count method" onCancel={onCancel}>
        <TextField {...form.bind("name", "Name")} autoFocus />
        <StopFields form={form} words={definition.stopping.name} />
        <VesselFields form={form} offered={offered} />
        <FieldGrid title="Reporting">
          <NumberField
            {...form.bind("precision", "Precision wanted")}
            optional="± 10 % when empty"
            hint="A fraction, for “n more fields”: 0.1 is ± 10 %."
          />
          <NumberField
            {...form.bind("leastReported", "Fewest objects reported as a value")}
            optional="1 when empty"
            hint="Fewer are reported as less than."
          />
        </FieldGrid>
        {definition.density.kind === "none" ? null : (
          <DensityLimitFields
            id="form-count-method-limit"
            limits={form.values.densityLimits}
            categories={form.values.categories}
            onChange={(limits) => form.set("densityLimits", limits)}
            problems={Object.fromEntries(form.problems.map(({ path, reason }) => [path, reason]))}
          />
        )}
        <FieldGrid title="Limits of control samples">
          <NumberField
            {...form.bind("controlLimits.blankUpper", "Objects in a field of a blank, at most")}
            optional
          />
          <NumberField
            {...form.bind("controlLimits.recoveryLower", "Recovery, at least")}
            unit="%"
            optional
          />
          <NumberField {...form.bind("controlLimits.recoveryUpper", "Recovery, at most")} unit="%" optional />
          <NumberField
            {...form.bind("controlLimits.duplicateUpper", "Relative range of duplicates, at most")}
            unit="%"
            optional
          />
          <TextField {...form.bind("controlLimits.source", "Where these limits come from")} optional />
        </FieldGrid>
        {definition.edgeRuleId === null ? null : (
          <EdgeRuleField
            value={form.values.edgeRuleId}
            onChange={(id) => form.set("edgeRuleId", id)}
            note="Printed with every result of the method."
          />
        )}
        {definition.density.kind === "fibres" ? (
          <SelectField
            {...form.bind("fibreRuleId", "What counts as a fibre")}
            hint="Shown while counting, and printed with every result of the method."
            none="named nowhere here"
            choices={FIBRE_RULES.map(({ id, name }) => ({ value: id, words: name }))}
          />
        ) : null}
        <ListChoice
          onChosen={(list) =>
            form.set(
              "categories",
              list ? categoriesOfList(list.definition.categories, definition) : definition.categories,
            )
          }
        />
        <KeyFields
          id="form-count-method-key"
          categories={form.values.categories}
          fixed={0}
          onChange={(categories) => form.set("categories", categories)}
          error={form.problems.find(({ path }) => path.startsWith("categories"))?.reason}
        />
        <ChecksField
          {...form.bind("practice", "To be proven in practice before work by this method")}
          hint="Nothing is blocked: a count with presses of somebody who lacks one of these says so on screen, report and workbook."
          choices={EXERCISE_CHOICES}
        />
        <TextField {...form.bind("note", "Note")} lines={2} />
      </FormFrame>
    </Panel>
  );
}

/** Categories of a list in place of those the method has. */
function ListChoice({ onChosen }: { onChosen: (list: CategoryList | null) => void }) {
  const lists = useCall("categoryLists.list", {});
  const [listId, setListId] = useState("");
  if (!lists.data || lists.data.length === 0) return null;
  return (
    <SelectField
      id="form-count-method-list"
      label="Categories"
      value={listId}
      choices={[
        { value: "", words: "as they are" },
        ...lists.data.map(({ id, version, definition }) => ({
          value: id,
          words: `${definition.name}, version ${version}`,
        })),
      ]}
      onChange={(id) => {
        setListId(id);
        onChosen(lists.data?.find((one) => one.id === id) ?? null);
      }}
    />
  );
}

function VesselFields({ form, offered }: { form: Form<MethodValues>; offered: OfferedMethod }) {
  const choices = vesselChoices(offered.definition);
  if (choices.length === 0) return null;
  const filter = ["fibres", "on-filter"].includes(offered.definition.density.kind);
  const own = isOwnVessel(form.values);
  const round = form.values.vessel === "own circle";
  return (
    <FieldGrid title={filter ? "Filter" : "Chamber"}>
      <SelectField {...form.bind("vessel", filter ? "Filter" : "Chamber")} choices={choices} />
      {own ? <TextField {...form.bind("vesselName", "Its name")} /> : null}
      {own && filter ? <NumberField {...form.bind("filterArea", "Effective area")} unit="mm²" /> : null}
      {own && !filter && round ? (
        <NumberField {...form.bind("vesselDiameter", "Diameter")} unit="mm" />
      ) : null}
      {own && !filter && !round ? (
        <>
          <NumberField {...form.bind("vesselLength", "Length")} unit="mm" />
          <NumberField {...form.bind("vesselWidth", "Width")} unit="mm" />
        </>
      ) : null}
      {own && !filter ? (
        <NumberField
          {...form.bind("vesselDepth", "Depth")}
          unit="mm"
          optional="empty for a settling chamber"
        />
      ) : null}
      {own ? (
        <TextField
          {...form.bind("vesselSource", "Where the dimensions come from")}
          hint="A certificate, a maker's drawing, your own measurement."
        />
      ) : null}
    </FieldGrid>
  );
}
