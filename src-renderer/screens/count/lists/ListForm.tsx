import { useMemo, useState } from "react";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { listChanges } from "#core/counting/lists/list-changes.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { ListPreview } from "./ListPreview.tsx";
import { type ListValues, problemsOfList, readList, takenOf, valuesOfList } from "./list-draft.ts";

export interface ListFormProps {
  /** The version to make the next one of; null: a new list. */
  readonly list: CategoryList | null;
  readonly onSaved: (list: CategoryList) => void;
  readonly onCancel: () => void;
}

/** Largest list file that is read, in bytes: a thousand taxa need a tenth of it. */
const LARGEST_FILE = 1_000_000;

/** Makes a list, or its next version, from cells of a spreadsheet or a CSV file; nothing is taken before it is seen. */
export function ListForm({ list, onSaved, onCancel }: ListFormProps) {
  const client = useClient();
  const before = list?.definition.categories ?? [];
  const form = useForm<ListValues, CategoryList>({
    id: `category-list-${list?.familyId ?? "new"}`,
    what: "the category list",
    initial: valuesOfList(list),
    check: (values) => problemsOfList(values, list),
    send: (values, requestId) =>
      client("categoryLists.define", {
        requestId,
        familyId: list?.familyId ?? null,
        definition: { name: values.name, categories: takenOf(readList(values, list)), note: values.note },
        carryNames: values.carryReason.trim() === "" ? null : { reason: Reason.parse(values.carryReason) },
      }),
    root: "definition",
    fieldOf: (path) => (path.startsWith("categories") ? "text" : path),
    onSaved,
  });
  const { text } = form.values;
  const read = useMemo(() => readList({ text }, list), [text, list]);
  const refused = read.lines.some((line) => line.refused !== null);
  const renamed = listChanges(before, takenOf(read)).renamed.length > 0;
  return (
    <Panel
      title={list ? `The next version of ${list.definition.name}` : "A new category list"}
      lead="Counts keep what they were opened with."
    >
      <FormFrame form={form} submit="Save the list" label="Category list" onCancel={onCancel}>
        <TextField {...form.bind("name", "Name of the list")} />
        <TextField
          {...form.bind("text", "Categories, one a line")}
          lines={8}
          autoFocus
          hint="Paste cells of a spreadsheet: name, code, group, sums, counts as, key, stop at, or those named by a first line of headings. Only the name is needed. Sums: “Land pollen; (Trees)” is part of Land pollen and given as per cent of Trees."
        />
        <ListFile onText={(fromFile) => form.set("text", fromFile)} />
        <ListPreview read={read} before={before} />
        {refused ? (
          <label>
            <input
              type="checkbox"
              checked={form.values.leaveOut}
              onChange={(event) => form.set("leaveOut", event.target.checked)}
            />{" "}
            Leave the refused lines out
          </label>
        ) : null}
        {renamed ? (
          <TextField
            {...form.bind("carryReason", "Why names have changed")}
            optional
            hint="With a reason open counts by this list get the new names, and their trail keeps the old ones. Closed counts stay as they are."
          />
        ) : null}
        <TextField {...form.bind("note", "Note")} lines={2} />
      </FormFrame>
    </Panel>
  );
}

async function textOf(file: File): Promise<string> {
  if (file.size > LARGEST_FILE) throw new Error("is larger than a list can be: at most 1 MB");
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    throw new Error("is not UTF-8 text: save it as “CSV UTF-8”, or paste its cells");
  }
}

function ListFile({ onText }: { onText: (text: string) => void }) {
  const [problem, setProblem] = useState<string | null>(null);
  const take = (file: File): void => {
    setProblem(null);
    textOf(file).then(onText, (error: Error) => setProblem(`“${file.name}” ${error.message}.`));
  };
  return (
    <p>
      <label>
        or a CSV file:{" "}
        <input
          type="file"
          accept=".csv,.tsv,.txt,text/csv"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) take(file);
            event.target.value = "";
          }}
        />
      </label>
      {problem ? <span role="alert"> {problem}</span> : null}
    </p>
  );
}
