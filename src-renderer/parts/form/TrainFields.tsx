import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Caution } from "../Caution.tsx";
import { FieldGrid } from "./FieldGrid.tsx";
import { SelectField } from "./SelectField.tsx";
import type { Form } from "./use-form.ts";

/** The parts of a train as a form holds them; empty while there is no stand. */
export interface TrainValues {
  readonly microscopeId: string;
  readonly eyepieceId: string;
  readonly intermediateMagnification: string;
  readonly objectiveId: string;
}

const onTurret = (microscope: Microscope | undefined) => objectivesOnTurret(microscope?.objectives ?? []);

/** The first eyepiece, step and objective of a stand; nothing when there is no stand. */
export function firstPartsOf(microscope: Microscope | undefined): TrainValues {
  return {
    microscopeId: microscope?.id ?? "",
    eyepieceId: microscope?.eyepieces[0]?.id ?? "",
    intermediateMagnification: microscope?.intermediateMagnifications[0] ?? "",
    objectiveId: onTurret(microscope)[0]?.id ?? "",
  };
}

const SAID: ReadonlySet<TrainStatus["state"]> = new Set([
  "calibration overdue",
  "certificate overdue",
  "check before use",
  "out of service",
  "not calibrated",
]);

/** Chooses the optical train in use, for a sheet and for a count; what stands in its way is said before it is opened. */
export function TrainFields<V extends TrainValues>({
  form,
  microscopes,
  title,
}: {
  form: Form<V>;
  microscopes: readonly Microscope[];
  title?: string;
}) {
  const { values } = form;
  const chosen = microscopes.find((one) => one.id === values.microscopeId);
  const { data } = useCall("bench.overview", {});
  const status = data?.microscopes
    .flatMap(({ trains }) => trains)
    .find(
      ({ train }) =>
        train.microscopeId === values.microscopeId &&
        train.eyepieceId === values.eyepieceId &&
        train.intermediateMagnification === values.intermediateMagnification &&
        train.objectiveId === values.objectiveId,
    );
  return (
    <>
      <FieldGrid {...(title === undefined ? {} : { title })}>
        <SelectField
          {...form.bind("microscopeId", "Microscope")}
          choices={microscopes.map((one) => ({ value: one.id, words: one.name }))}
          onChange={(id) =>
            form.change((before) => ({
              ...before,
              ...firstPartsOf(microscopes.find((one) => one.id === id)),
            }))
          }
        />
        <SelectField
          {...form.bind("eyepieceId", "Eyepiece")}
          choices={(chosen?.eyepieces ?? []).map((one) => ({ value: one.id, words: one.name }))}
        />
        <SelectField
          {...form.bind("intermediateMagnification", "Intermediate magnification")}
          choices={(chosen?.intermediateMagnifications ?? []).map((one) => ({
            value: one,
            words: `${one}×`,
          }))}
        />
        <SelectField
          {...form.bind("objectiveId", "Objective")}
          choices={onTurret(chosen).map((one) => ({
            value: one.id,
            words: `${one.position} · ${objectiveWords(one)}`,
          }))}
        />
      </FieldGrid>
      {status && SAID.has(status.state) ? (
        <Caution>
          This train: {status.state}. {status.why}
        </Caution>
      ) : null}
    </>
  );
}
