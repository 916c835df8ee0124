import type { TrainStatus } from "#core/contract/records/bench.ts";
import { objectiveRing } from "#core/optics/objective-ring.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { objectiveInUse } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useLivePart } from "../../live/use-live-part.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { ObjectiveRing } from "../../parts/bench-words/ObjectiveRing.tsx";
import { today } from "../../parts/bench-words/today.ts";
import { StateMark } from "../../parts/StateMark.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./MeasureScreen.module.css";
import { certificateOf, objectiveById, type SheetContext, trainOfObjective } from "./sheet-context.ts";

/** The objective in use, large: it sets the factor of every row entered from now on. */
export function ObjectiveHead({ store, context }: { store: GridStore; context: SheetContext }) {
  const id = useLivePart(store, objectiveInUse);
  const turret = useLivePart(store, (state) => state.turret);
  const objective = objectiveById(context, id);
  const status = trainOfObjective(context, id);
  if (!objective) return null;
  return (
    <section className={styles.objective} aria-label="Objective in use" aria-live="polite">
      {turret === null ? (
        <>
          <ObjectiveRing
            magnification={objective.magnification}
            numericalAperture={objective.numericalAperture}
            size="large"
            wordless
          />
          <div>
            <p className={styles.optics}>
              <strong>
                {objective.position} · {objectiveWords(objective)}
              </strong>{" "}
              {context.microscope.intermediateMagnifications.length > 1 ? (
                <strong>· changer {context.sheet.intermediateMagnification}× </strong>
              ) : null}
              <span className={styles.soft}>{objectiveRing(decimal(objective.magnification))} ring</span>
            </p>
            {objective.replaced ? (
              <p className={styles.warning}>
                <StateMark state="bad" /> Left the turret on {objective.replaced.on}: no new reading with it.
                Choose the one that is there now.
              </p>
            ) : (
              <>
                {status?.state === "out of service" ? (
                  <p className={styles.warning}>
                    <StateMark state="bad" /> {status.why}
                  </p>
                ) : null}
                <Factor status={status} context={context} />
              </>
            )}
          </div>
        </>
      ) : (
        <TurretPrompt typed={turret} context={context} />
      )}
    </section>
  );
}

function Factor({ status, context }: { status: TrainStatus | undefined; context: SheetContext }) {
  const navigation = useNavigation();
  const inForce = status?.inForce;
  if (!inForce?.result) {
    return (
      <>
        <p className={styles.warning}>
          <StateMark state="warn" /> No calibration in force: rows keep divisions.
        </p>
        <p>
          <Button
            look="quiet"
            onClick={() =>
              navigation.go({ screen: "calibrate", trainId: status?.train.id ?? null, calibrationId: null })
            }
          >
            Calibrate this train
          </Button>
        </p>
      </>
    );
  }
  const rest = certificateOf(context, inForce.certificateId);
  return (
    <>
      <p className={styles.factor}>
        {inForce.result.shownFactor} ± {inForce.result.shownUncertainty}{" "}
        <span className={styles.soft}>µm/div</span>
      </p>
      <p className={styles.small}>
        calibrated {inForce.inForceAt ? shownDay(inForce.inForceAt) : ""}, <Due on={inForce.dueOn} />
      </p>
      {rest ? (
        <p className={styles.small}>
          micrometer {rest.micrometer.serial}, certificate {rest.certificate.number},{" "}
          <Due on={rest.certificate.dueOn} />
        </p>
      ) : null}
    </>
  );
}

function Due({ on }: { on: string | null }) {
  if (on === null) return <>no due date</>;
  if (on >= today()) return <>due {on}</>;
  return (
    <strong className={styles.overdue}>
      <StateMark state="bad" /> overdue since {on}
    </strong>
  );
}

function TurretPrompt({ typed, context }: { typed: string; context: SheetContext }) {
  const objectives = objectivesOnTurret(context.microscope.objectives);
  return (
    <div>
      <p className={styles.factor}>
        Turret position? <span className={styles.typedPosition}>{typed}</span>
      </p>
      <ul className={styles.turret}>
        {objectives.map((one) => (
          <li key={one.id}>
            <strong>{one.position}</strong>{" "}
            <ObjectiveRing magnification={one.magnification} numericalAperture={one.numericalAperture} />
          </li>
        ))}
      </ul>
    </div>
  );
}
