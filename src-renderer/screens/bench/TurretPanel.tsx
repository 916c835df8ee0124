import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { trainWords } from "#core/optics/train-name.ts";
import { isEnded, objectivesOnTurret } from "#core/optics/turret.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { TrainCard } from "./TrainCard.tsx";
import { TurretDrawing } from "./TurretDrawing.tsx";
import styles from "./TurretPanel.module.css";
import { groupTrains, turretPlaces } from "./turret.ts";

/** One microscope: its turret as an arc of objective rings, and below each ring what is known of it. */
export function TurretPanel({
  microscope,
  trains: everyTrain,
}: {
  microscope: Microscope;
  trains: readonly TrainStatus[];
}) {
  const places = turretPlaces(objectivesOnTurret(microscope.objectives));
  const trains = everyTrain.filter(({ train }) => !isEnded(train, microscope));
  const groups = groupTrains(trains);
  const stand = [microscope.maker, microscope.model].filter((part) => part !== "").join(" ");
  const lead = [stand, microscope.serial ? `serial ${microscope.serial}` : "", reticleWords(microscope)]
    .filter((part) => part !== "")
    .join(" · ");
  return (
    <Panel title={microscope.name} lead={lead}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide turret must scroll by keyboard */}
      <section className={styles.scroll} aria-label={`Turret of ${microscope.name}`} tabIndex={0}>
        <div
          className={styles.turret}
          style={{ minInlineSize: `${places.length * 9.2}rem`, maxInlineSize: `${places.length * 12.5}rem` }}
        >
          <TurretDrawing places={places} trains={trains} />
          {groups.map((group) => {
            const words = group[0] ? trainWords(microscope, group[0].train) : "";
            return (
              <div key={group[0]?.train.id} className={styles.group}>
                {words ? <h3 className={styles.groupName}>{words}</h3> : null}
                <ul
                  className={styles.cards}
                  style={{ gridTemplateColumns: `repeat(${places.length}, minmax(0, 1fr))` }}
                >
                  {places.map((objective, index) => {
                    const status = group.find((one) => one.train.objectiveId === objective?.id);
                    return (
                      <li key={objective?.id ?? `empty ${index + 1}`}>
                        {objective && status ? (
                          <TrainCard objective={objective} status={status} microscope={microscope.name} />
                        ) : (
                          <p className={styles.empty}>{index + 1}: no objective</p>
                        )}
                      </li>
                    );
                  })}
                </ul>
              </div>
            );
          })}
        </div>
      </section>
    </Panel>
  );
}

function reticleWords(microscope: Microscope): string {
  const [only, ...others] = microscope.eyepieces;
  if (!only || others.length > 0) return countedNoun(microscope.eyepieces.length, "eyepiece");
  const { scaleLengthMm, divisions } = only.reticle;
  return `${only.name}, reticle ${scaleLengthMm} mm in ${divisions}`;
}
