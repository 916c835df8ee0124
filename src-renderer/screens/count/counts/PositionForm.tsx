import type { Count, FieldPosition } from "#core/contract/records/count.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import type { CountingStore } from "../state/counting-store.ts";

/** Writes down where the field in hand lies on the stage, so that it can be found again and drawn on the map. */
export function PositionForm({ store, onSaved }: { store: CountingStore; onSaved: (count: Count) => void }) {
  const client = useClient();
  const { count, fields } = store.state();
  const field = fields.length;
  const form = useForm<FieldPosition, Count>({
    id: `place-${count.id}-${field}`,
    what: `the position of field ${field}`,
    initial: { x: "", y: "" },
    check: ({ x, y }) =>
      problemsOfNumbers([
        ["x", x],
        ["y", y],
      ]),
    send: async (position, requestId) => {
      // The field itself may still be on its way.
      await store.settled();
      return client("counts.placeField", { requestId, countId: count.id, field, position });
    },
    root: "position",
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Save position" label={`Position of field ${field}`}>
      <FieldGrid>
        <NumberField {...form.bind("x", "Stage vernier, x")} unit="mm" autoFocus />
        <NumberField {...form.bind("y", "Stage vernier, y")} unit="mm" />
      </FieldGrid>
    </FormFrame>
  );
}
