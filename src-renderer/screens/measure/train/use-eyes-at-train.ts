import type { EyesAtTrain } from "#core/contract/records/eyes.ts";
import type { Person } from "#core/contract/records/person.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { type SheetContext, trainOfObjective } from "../sheet-context.ts";

/** Dioptre, sleeve and glasses as the person had them last at the train in use; null: never said, or not read yet. */
export function useEyesAtTrain(
  context: SheetContext,
  objectiveId: string,
  person: Person | null,
): EyesAtTrain | null {
  const trainId = trainOfObjective(context, objectiveId)?.train.id;
  const said = useCall("sheets.eyesAtTrains", { personId: person?.id ?? null });
  return said.data?.find((one) => one.personId === person?.id && one.trainId === trainId) ?? null;
}
