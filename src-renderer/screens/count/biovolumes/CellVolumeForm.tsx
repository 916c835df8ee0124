import { useEffect, useState } from "react";
import type { Count } from "#core/contract/records/count.ts";
import { volumesOfMethod } from "#core/measurement/mean-cell-volume.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { ReasonForm } from "../../../parts/form/ReasonForm.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { type Form, useForm } from "../../../parts/form/use-form.ts";
import {
  CARBON_CHOICES,
  type CellVolumeDraft,
  carbonGuessed,
  draftOf,
  givenOf,
  problemsOfDraft,
} from "./cell-volume-draft.ts";

interface CellVolumeFormProps {
  readonly count: Count;
  readonly category: Count["categories"][number];
  readonly onSaved: (count: Count) => void;
}

const FROM = [
  { value: "sheet", words: "cells measured on a sheet" },
  { value: "typed", words: "typed, with its source" },
];

/** The volume of one counted unit of a taxon, from the cells of a sheet or typed, and the relation of its carbon. */
export function CellVolumeForm({ count, category, onSaved }: CellVolumeFormProps) {
  const client = useClient();
  const { key, name, group } = category;
  const given = count.cellVolumes?.find((one) => one.category === key) ?? null;
  const form = useForm<CellVolumeDraft, Count>({
    id: `cell-volume-${count.id}-${key}`,
    what: `the cell volume of ${name}`,
    initial: draftOf(given, count.linkedSheetId, carbonGuessed(`${name} ${group ?? ""}`)),
    check: (draft) => problemsOfDraft(draft, given !== null),
    send: (draft, requestId) =>
      client("counts.giveCellVolume", {
        requestId,
        countId: count.id,
        category: key,
        given: givenOf(draft),
        reason: draft.reason,
      }),
    fieldOf: (path) => path.replace(/^given\.(of\.)?/, ""),
    onSaved,
  });
  return (
    <>
      <FormFrame form={form} submit="Save the volume" label={`Cell volume of ${name}`}>
        <FieldGrid>
          <SelectField {...form.bind("from", "Volume from")} choices={FROM} />
          {form.values.from === "sheet" ? <OfSheet form={form} /> : <Typed form={form} />}
          <SelectField
            {...form.bind("carbon", "Carbon of one cell")}
            hint="By S. Menden-Deuer and E. J. Lessard (2000), from memory; V in µm³."
            choices={CARBON_CHOICES}
          />
          {given ? <TextField {...form.bind("reason", "Reason")} /> : null}
        </FieldGrid>
      </FormFrame>
      {given ? <TakeAway count={count} category={category} onSaved={onSaved} /> : null}
    </>
  );
}

/** Asks for the reason once it is wanted: choosing another taxon by the arrows must not lose the focus to it. */
function TakeAway({ count, category: { key, name }, onSaved }: CellVolumeFormProps) {
  const client = useClient();
  const [isAsked, setAsked] = useState(false);
  if (!isAsked) return <Button onClick={() => setAsked(true)}>Take this volume away …</Button>;
  return (
    <ReasonForm
      id={`no-cell-volume-${count.id}-${key}`}
      label={`Take the cell volume of ${name} away`}
      what="why a cell volume is taken away"
      submit="Take it away"
      send={(reason, requestId) =>
        client("counts.giveCellVolume", { requestId, countId: count.id, category: key, given: null, reason })
      }
      onSaved={onSaved}
      onCancel={() => setAsked(false)}
    />
  );
}

type Draft = { readonly form: Form<CellVolumeDraft> };

function Typed({ form }: Draft) {
  return (
    <>
      <NumberField {...form.bind("volume", "Volume")} unit="µm³" />
      <NumberField {...form.bind("expanded", "U (k = 2)")} unit="µm³" optional="taken as exact without it" />
      <TextField {...form.bind("source", "Source")} hint="The list or table, and its year." />
    </>
  );
}

function OfSheet({ form }: Draft) {
  const sheets = useCall("sheets.list", {});
  const chosen = sheets.data?.find(({ id }) => id === form.values.sheetId);
  return (
    <>
      <CallNotice calls={[sheets]} waiting="Fetching the sheets …" />
      <SelectField
        {...form.bind("sheetId", "Sheet")}
        none="Choose a sheet."
        choices={(sheets.data ?? []).map(({ id, number, sample }) => ({
          value: id,
          words: `${number}, ${sample}`,
        }))}
      />
      {chosen ? <QuantityField form={form} methodId={chosen.methodId} /> : null}
      <TextField
        {...form.bind("label", "Label of its rows")}
        optional
        hint="Without one every row that is not struck is taken."
      />
    </>
  );
}

/** Which volume of the sheet's method; the first stands until another is chosen. */
function QuantityField({ form, methodId }: Draft & { readonly methodId: string }) {
  const method = useCall("methods.get", { methodId });
  const volumes = method.data ? volumesOfMethod(method.data.definition) : null;
  const { set } = form;
  const { quantity } = form.values;
  const first = volumes?.[0]?.key;
  const isKnown = volumes?.some(({ key }) => key === quantity) ?? true;
  useEffect(() => {
    if (!isKnown && first !== undefined) set("quantity", first);
  }, [isKnown, first, set]);
  if (!volumes) return <CallNotice calls={[method]} waiting="Fetching its method …" />;
  if (volumes.length === 0) {
    return <p>The method of this sheet derives no volume. Measure cells under a biovolume method.</p>;
  }
  return (
    <SelectField
      {...form.bind("quantity", "Volume on the sheet")}
      choices={volumes.map(({ key, name }) => ({ value: key, words: name }))}
    />
  );
}
