import { readPooled } from "#core/calibration/calculation-basis.ts";
import { pooledWords } from "#core/calibration/repeatability-line.ts";
import type { PooledRecord } from "#core/contract/records/calibration.ts";
import type { ChosenRepeatability } from "#core/vocabulary/repeatability-origin.ts";
import { Button } from "../../parts/Button.tsx";
import { useCommand } from "../../window/use-command.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationDraft } from "./calibration-draft.ts";
import { type CalibrationContext, type CalibrationPreview, chosenScatters } from "./calibration-preview.ts";

const BUTTON: Readonly<Record<ChosenRepeatability | "usual", string>> = {
  usual: "Take the usual scatter again",
  "repeat readings": "Take that of your repeat readings",
  practice: "Take that of your practice",
};

/** With one setting only: what its scatter is taken to be, and what else is known of it, to be taken by one key. */
export function ScatterOffer({
  context,
  preview,
  draft,
  onChange,
}: {
  context: CalibrationContext;
  preview: CalibrationPreview;
  draft: CalibrationDraft;
  onChange: (draft: CalibrationDraft) => void;
}) {
  const offered = chosenScatters(context);
  const isSingle = preview.rows.filter((row) => row !== null).length === 1;
  const chosen = draft.conditions.repeatability;
  const ways = [undefined, ...offered.map(({ origin }) => origin as ChosenRepeatability)];
  const next = ways[(ways.indexOf(chosen) + 1) % ways.length];
  const take = (repeatability: ChosenRepeatability | undefined): void => {
    const { repeatability: _, ...conditions } = draft.conditions;
    onChange({ ...draft, conditions: { ...conditions, ...(repeatability && { repeatability }) } });
  };
  const isOffered = isSingle && ways.length > 1;
  useCommand("calibrate.scatter", isOffered ? () => take(next) : null);
  const pooled = preview.result?.pooled;
  if (!isOffered || !pooled) return null;
  const source = offered.find(({ origin }) => origin === next);
  return (
    <div className={styles.offer} role="status">
      <p className={styles.soft}>One setting only; its scatter is taken as {pooledWords(pooled)}.</p>
      <Button keyHint="Alt+P" onClick={() => take(next)}>
        {BUTTON[next ?? "usual"]}
      </Button>
      {source ? <p className={styles.soft}>{wordsOf(source)}</p> : null}
    </div>
  );
}

const wordsOf = (source: PooledRecord): string => `It would be ${pooledWords(readPooled(source))}.`;
