import type { Count } from "#core/contract/records/count.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { KeyFields } from "../methods/KeyFields.tsx";
import { problemsOfKeys, problemsOfReason } from "./count-form.ts";

interface Values {
  readonly categories: readonly CountCategory[];
  readonly reason: string;
}

/** Changes names and keys of a paused count, or adds categories, with a reason that is written down. */
export function KeysForm({ count, onSaved }: { count: Count; onSaved: (count: Count) => void }) {
  const client = useClient();
  const form = useForm<Values, Count>({
    id: `keys-${count.id}`,
    what: "the changed keys",
    initial: { categories: count.categories, reason: "" },
    check: ({ categories, reason }) => ({ ...problemsOfKeys(categories), ...problemsOfReason(reason) }),
    send: ({ categories, reason }, requestId) =>
      client("counts.changeCategories", {
        requestId,
        countId: count.id,
        categories: [...categories],
        reason: Reason.parse(reason),
      }),
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Change the keys" label="Change the keys">
      <KeyFields
        id={`keys-${count.id}`}
        categories={form.values.categories}
        fixed={count.categories.length}
        onChange={(categories) => form.set("categories", categories)}
        error={form.problems.find(({ path }) => path.startsWith("categories"))?.reason}
      />
      <TextField {...form.bind("reason", "Reason")} />
    </FormFrame>
  );
}
