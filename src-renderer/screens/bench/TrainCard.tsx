import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Objective } from "#core/contract/records/microscope.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { cardVerdict } from "./card-verdict.ts";
import styles from "./TrainCard.module.css";

export interface TrainCardProps {
  readonly objective: Objective;
  readonly status: TrainStatus;
  readonly microscope: string;
}

/** One objective of the turret: factor ± U, due date, one cardWord on it and why. */
export function TrainCard({ objective, status, microscope }: TrainCardProps) {
  const navigation = useNavigation();
  const result = status.inForce?.result;
  const dueOn = status.inForce?.dueOn;
  const name = objectiveWords(objective);
  const verdicts = useCall("trends.verdicts", {});
  const verdict = verdicts.data?.find((one) => one.trainId === status.train.id)?.verdict ?? null;
  const cardWord = cardVerdict(status, verdict);
  return (
    <article className={styles.card} aria-label={`Position ${objective.position}, ${name}`}>
      <h3 className={styles.name}>{name}</h3>
      {result ? (
        <p className={styles.factor}>
          <span className={styles.value}>{result.shownFactor}</span>
          <span className={styles.uncertainty}>± {result.shownUncertainty} µm/div</span>
          {result.working ? <span className={styles.exact}>exact {result.working.shown}</span> : null}
        </p>
      ) : (
        <p className={styles.factor}>
          <span className={styles.none}>no factor</span>
        </p>
      )}
      <p className={styles.state}>
        <StateMark state={cardWord.mark} />
        <strong>{cardWord.words}</strong>
      </p>
      {dueOn && !status.why.includes(dueOn) ? <p>due {dueOn}</p> : null}
      <p className={styles.why}>
        <Unbroken text={cardWord.why} />
      </p>
      {cardWord.also ? (
        <p className={styles.trend}>
          <Unbroken text={cardWord.also} />
        </p>
      ) : null}
      <p className={styles.act}>
        <Button
          look="quiet"
          aria-label={`Calibrate ${name} on ${microscope}`}
          onClick={() =>
            navigation.go({ screen: "calibrate", trainId: status.train.id, calibrationId: null })
          }
        >
          Calibrate
        </Button>
        {result ? (
          <Button
            look="quiet"
            aria-label={`Trend of ${name} on ${microscope}`}
            onClick={() => navigation.go({ screen: "trends", part: "train", subjectId: status.train.id })}
          >
            Trend
          </Button>
        ) : null}
      </p>
    </article>
  );
}
