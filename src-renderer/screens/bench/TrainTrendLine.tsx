import { useCall } from "../../bridge/use-call.ts";
import { StateMark } from "../../parts/StateMark.tsx";
import { UnbrokenDates } from "../../parts/UnbrokenDates.tsx";
import { MARK_OF_STANDING } from "../trends/trend-marks.ts";
import styles from "./TrainCard.module.css";

/** How the factor of a train behaves over time, with its one line of why; nothing for a train never calibrated. */
export function TrainTrendLine({ trainId }: { trainId: string }) {
  const standings = useCall("trends.standings", {});
  const standing = standings.data?.find((one) => one.trainId === trainId)?.standing;
  if (!standing || standing.kind === "not calibrated") return null;
  return (
    <div className={styles.trend}>
      <p className={styles.state}>
        <StateMark state={MARK_OF_STANDING[standing.kind]} />
        <strong>{standing.kind}</strong>
      </p>
      <p className={styles.why}>
        <UnbrokenDates text={standing.why} />
      </p>
    </div>
  );
}
