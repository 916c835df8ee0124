import type { Count, FieldPosition } from "#core/contract/records/count.ts";
import { readFinderSquare } from "#core/measurement/finder-square.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import type { CountingStore } from "../state/counting-store.ts";

interface Place {
  readonly x: string;
  readonly y: string;
  readonly square: string;
}

function problemOfSquare(typed: string): Record<string, string> {
  if (typed.trim() === "") return {};
  try {
    readFinderSquare("square", typed.trim());
    return {};
  } catch (error) {
    if (error instanceof InputError) return { square: error.reason };
    throw error;
  }
}

/** Writes down where the field in hand lies on the stage, so that it can be found again and drawn on the map. */
export function PositionForm({
  store,
  known,
  onSaved,
}: {
  store: CountingStore;
  /** Where it lies by what was written down before. */
  known: FieldPosition | null;
  onSaved: (count: Count) => void;
}) {
  const client = useClient();
  const { count, fields } = store.state();
  const field = fields.length;
  const form = useForm<Place, Count>({
    id: `place-${count.id}-${field}`,
    what: `the position of field ${field}`,
    initial: { x: known?.x ?? "", y: known?.y ?? "", square: known?.square ?? "" },
    check: ({ x, y, square }) => ({
      ...problemsOfNumbers([
        ["x", x, { optional: true }],
        ["y", y, { optional: true }],
      ]),
      ...problemOfSquare(square),
    }),
    send: async ({ square, ...verniers }, requestId) => {
      // The field itself may still be on its way.
      await store.settled();
      const position = square.trim() === "" ? verniers : { ...verniers, square: square.trim() };
      return client("counts.placeField", { requestId, countId: count.id, field, position });
    },
    root: "position",
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Save position" label={`Position of field ${field}`}>
      <FieldGrid>
        <NumberField {...form.bind("x", "Stage vernier, x")} unit="mm" optional autoFocus />
        <NumberField {...form.bind("y", "Stage vernier, y")} unit="mm" optional />
        <TextField {...form.bind("square", "Square of a finder slide")} hint="Such as M23" optional />
      </FieldGrid>
    </FormFrame>
  );
}
