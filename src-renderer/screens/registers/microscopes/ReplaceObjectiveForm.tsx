import {
  IMMERSIONS,
  type Microscope,
  NewObjective,
  type Objective,
} from "#core/contract/records/microscope.ts";
import { CalendarDate, Reason } from "#core/contract/records/primitives.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { today } from "../../../parts/bench-words/today.ts";
import { DateField } from "../../../parts/form/DateField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { emptyObjective, type ObjectiveTyped, objectiveInput } from "./microscope-form.ts";

interface Typed {
  readonly objective: ObjectiveTyped;
  readonly on: string;
  readonly reason: string;
}

function problemsOf({ objective, on, reason }: Typed): FieldErrors {
  const problems = Object.entries(problemsBySchema(NewObjective, objectiveInput(objective)));
  const date = CalendarDate.safeParse(on).error?.issues[0]?.message;
  const why = Reason.safeParse(reason).error?.issues[0]?.message;
  return {
    ...Object.fromEntries(problems.map(([path, message]) => [`objective.${path}`, message])),
    ...(date ? { on: date } : on > today() ? { on: "lies in the future" } : {}),
    ...(why ? { reason: why } : {}),
  };
}

export interface ReplaceObjectiveProps {
  readonly microscope: Microscope;
  /** The one that leaves. */
  readonly objective: Objective;
  readonly onDone: () => void;
}

/** Puts another objective in the place of one: its magnification and immersion are most often the same. */
export function ReplaceObjectiveForm({ microscope, objective: old, onDone }: ReplaceObjectiveProps) {
  const client = useClient();
  const form = useForm<Typed, Microscope>({
    id: `replace-${old.id}`,
    what: "the objective you began to replace",
    initial: {
      objective: {
        ...emptyObjective(old.position),
        magnification: old.magnification,
        numericalAperture: old.numericalAperture ?? "",
        immersion: old.immersion,
      },
      on: today(),
      reason: "",
    },
    check: problemsOf,
    send: ({ objective, on, reason }, requestId) => {
      const { position: _, ...typed } = objectiveInput(objective);
      return client("microscopes.replaceObjective", {
        requestId,
        microscopeId: microscope.id,
        objectiveId: old.id,
        on,
        reason,
        objective: typed,
      });
    },
    onSaved: onDone,
  });
  const name = `${objectiveWords(old)} in position ${old.position}`;
  return (
    <FormFrame form={form} label={`Replace the ${name}`} submit="Replace it" onCancel={onDone}>
      <p>
        The {name} keeps its history and its results; its factors end on that day and nothing new is read with
        it. The new one has no factor until it is calibrated. What was read with the old one after that day
        keeps its factor: see below what it touched.
      </p>
      <FieldGrid>
        <NumberField
          {...form.bind("objective.magnification", "Magnification of the new one")}
          unit="×"
          autoFocus
        />
        <NumberField {...form.bind("objective.numericalAperture", "Numerical aperture")} optional />
        <SelectField
          {...form.bind("objective.immersion", "Immersion")}
          choices={IMMERSIONS.map((immersion) => ({ value: immersion, words: immersion }))}
        />
        <TextField {...form.bind("objective.serial", "Serial number")} optional />
        <DateField {...form.bind("on", "Replaced on")} />
        <TextField {...form.bind("reason", "Reason")} hint="“Front lens scratched.”" />
      </FieldGrid>
    </FormFrame>
  );
}
