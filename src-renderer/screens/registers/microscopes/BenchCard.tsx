import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { trainWords } from "#core/optics/train-name.ts";
import { isEnded } from "#core/optics/turret.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { toFour } from "../../../parts/bench-words/figures.ts";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { ObjectiveRing } from "../../../parts/bench-words/ObjectiveRing.tsx";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../../parts/layout/PrintButton.tsx";
import styles from "../Registers.module.css";

/** One page to hang at a stand: the factor of each train with U, since when, until when, and what to beware of. */
export function BenchCard({ microscope, onBack }: { microscope: Microscope; onBack: () => void }) {
  const overview = useCall("bench.overview", {});
  const ofStand = overview.data?.microscopes.find((one) => one.microscope.id === microscope.id);
  const trains = (ofStand?.trains ?? []).filter(({ train }) => !isEnded(train, microscope));
  const objectiveOf = ({ train }: TrainStatus) =>
    microscope.objectives.find((one) => one.id === train.objectiveId);
  const several = microscope.eyepieces.length > 1 || microscope.intermediateMagnifications.length > 1;
  const columns: readonly Column<TrainStatus>[] = [
    { key: "position", title: "Position", number: true, cell: (one) => objectiveOf(one)?.position ?? "–" },
    {
      key: "objective",
      title: "Objective",
      names: true,
      cell: (one) => {
        const objective = objectiveOf(one);
        return objective ? (
          <ObjectiveRing
            magnification={objective.magnification}
            numericalAperture={objective.numericalAperture}
          />
        ) : (
          "not found"
        );
      },
    },
    ...(several
      ? [
          {
            key: "with",
            title: "With",
            words: true,
            cell: (one: TrainStatus) => trainWords(microscope, one.train),
          },
        ]
      : []),
    {
      key: "factor",
      title: "Factor ± U, µm/div",
      number: true,
      cell: ({ inForce }) =>
        inForce?.result ? (
          <span className={styles.lines}>
            <strong>
              {inForce.result.shownFactor} ± {inForce.result.shownUncertainty}
              {inForce.result.working ? ` (exact ${inForce.result.working.shown})` : ""}
            </strong>
            <span>k = {toFour(inForce.result.coverageFactor)}</span>
          </span>
        ) : (
          "no factor"
        ),
    },
    {
      key: "since",
      title: "In force since, and due",
      unbroken: true,
      cell: ({ inForce }) =>
        inForce?.inForceAt ? (
          <span className={styles.lines}>
            <span>{shownDay(inForce.inForceAt)}</span>
            <span>due {inForce.dueOn ?? "not set"}</span>
          </span>
        ) : (
          "–"
        ),
    },
    { key: "state", title: "Notes", words: true, cell: (one) => (one.state === "ready" ? "–" : one.why) },
  ];
  return (
    <>
      <CallNotice calls={[overview]} waiting="Reading the bench …" />
      <Panel
        title={`Bench card: ${microscope.name}`}
        actions={
          <>
            <Button onClick={onBack}>Back to the record</Button>
            <PrintButton />
          </>
        }
      >
        <div className={styles.stack}>
          <Facts
            facts={[
              [
                "Microscope",
                [microscope.maker, microscope.model, microscope.serial && `serial ${microscope.serial}`]
                  .filter(Boolean)
                  .join(", "),
              ],
              [
                "Reticle",
                microscope.eyepieces
                  .map((one) => `${one.reticle.scaleLengthMm} mm in ${one.reticle.divisions}, in ${one.name}`)
                  .join("; "),
              ],
            ]}
          />
          <DataTable
            caption={`Factors of ${microscope.name}`}
            columns={columns}
            rows={trains}
            rowKey={(one) => one.train.id}
            empty="No optical train."
          />
          <ul className={styles.cautions}>
            <li>
              Length in µm = divisions read × factor of the objective in use. Write down the divisions too.
            </li>
            <li>Check the turret position and any changer before each reading.</li>
            {microscope.headCompensated ? null : (
              <li>
                The head is not compensated: the factors hold only for the interpupillary distance they were
                made at.
              </li>
            )}
            <li>
              After a service, a knock, or when eyepiece or reticle was taken out: check before use, and
              record the event.
            </li>
            <li>This card may be out of date: check the current factors on the Bench screen.</li>
          </ul>
          {overview.data ? <PaperFoot asOf={overview.data.asOf} /> : null}
        </div>
      </Panel>
    </>
  );
}
