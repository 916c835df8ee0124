import { type KeyboardEvent, useDeferredValue, useEffect, useMemo, useRef, useState } from "react";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { ScalesDrawing } from "../../charts/ScalesDrawing.tsx";
import { ObjectiveRing } from "../../parts/bench-words/ObjectiveRing.tsx";
import { AssessmentPanel } from "../../parts/calibration/AssessmentPanel.tsx";
import { OverdueQuestion } from "../../parts/calibration/OverdueNotice.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { BudgetPanel } from "./BudgetPanel.tsx";
import styles from "./CalibrateScreen.module.css";
import { ConditionsPanel } from "./ConditionsPanel.tsx";
import { type CalibrationDraft, draftOf, inputOf } from "./calibration-draft.ts";
import { type CalibrationContext, linePitch, previewCalibration } from "./calibration-preview.ts";
import { DraftKeeper, type KeptState } from "./draft-keeper.ts";
import { FactorPanel } from "./FactorPanel.tsx";
import { InForceNotice } from "./InForceNotice.tsx";
import { LinearityPanel } from "./LinearityPanel.tsx";
import { PutInForceForm } from "./PutInForceForm.tsx";
import { ScatterOffer } from "./ScatterOffer.tsx";
import { SettingsTable } from "./SettingsTable.tsx";
import { matchScales, matchWords, settingToDraw } from "./scales-match.ts";
import { VerdictLine, VerdictPanel } from "./VerdictPanel.tsx";

export interface CalibrationAtWorkProps {
  readonly context: CalibrationContext;
  readonly onChanged: (record: CalibrationRecord) => void;
}

/** One calibration: its readings, what follows from them as they are typed, and the act that puts it in force. */
export function CalibrationAtWork({ context, onChanged }: CalibrationAtWorkProps) {
  const { record, microscope, objective, micrometer, certificate } = context;
  const isDraft = record.state === "draft";
  const { draft, change, kept, flush } = useKeptDraft(record);
  // The echo of a key comes first; what follows from it is drawn when there is time.
  const shown = useDeferredValue(draft);
  const preview = useMemo(() => previewCalibration(context, shown), [context, shown]);
  const [row, setRow] = useState(0);
  const beside = useRef<HTMLDivElement>(null);
  // The key of the form beside the readings works from the readings, too.
  const putInForce = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" || !event.ctrlKey) return;
    event.preventDefault();
    beside.current?.querySelector("form")?.requestSubmit();
  };
  return (
    <ScreenFrame
      title={isDraft ? "Calibrate" : `Calibration ${record.state}`}
      leadBeside
      lead={
        <span className={styles.lead}>
          <ObjectiveRing
            magnification={objective.magnification}
            numericalAperture={objective.numericalAperture}
            wordless
          />
          <span>
            {objectiveWords(objective)} on {microscope.name}, position {objective.position} ·{" "}
            {micrometer.name}, {micrometer.serial}, certificate {certificate.number}
          </span>
        </span>
      }
    >
      {isDraft ? (
        <OverdueQuestion work="calibration" workId={record.id} />
      ) : (
        <InForceNotice context={context} />
      )}
      <div className={styles.work}>
        <div className={styles.column}>
          <Scales context={context} draft={draft} row={row} factor={preview.result?.factor ?? null} />
          <Panel title="Settings" lead="Each a fresh alignment; lines are counted from 0.">
            {/* biome-ignore lint/a11y/noStaticElementInteractions: its fields hand one key on */}
            <div className={styles.scroll} onKeyDown={isDraft ? putInForce : undefined}>
              <SettingsTable
                settings={draft.settings}
                preview={preview}
                readOnly={!isDraft}
                onChange={(settings) => change({ ...draft, settings })}
                onRow={setRow}
              />
            </div>
            {isDraft ? <KeptWords kept={kept} /> : null}
          </Panel>
        </div>
        <div ref={beside} className={styles.beside}>
          <FactorPanel context={context} preview={preview}>
            {isDraft ? <VerdictLine preview={preview} /> : null}
            {isDraft ? (
              <ScatterOffer context={context} preview={preview} draft={draft} onChange={change} />
            ) : null}
            {isDraft ? (
              <PutInForceForm context={context} preview={preview} flush={flush} onDone={onChanged} />
            ) : null}
          </FactorPanel>
        </div>
      </div>
      <ConditionsPanel draft={draft} problems={preview.problems} readOnly={!isDraft} onChange={change} />
      {isDraft ? <VerdictPanel preview={preview} /> : <AssessmentPanel calibration={record} />}
      <LinearityPanel context={context} preview={preview} band={bandOf(draft)} />
      <BudgetPanel result={preview.result} coverage={shown.coverage} />
    </ScreenFrame>
  );
}

function bandOf(draft: CalibrationDraft): number {
  const typed = Number(draft.conditions.smallestFraction.replace(",", "."));
  return Number.isFinite(typed) && typed > 0 ? typed : 0.1;
}

interface ScalesProps {
  readonly context: CalibrationContext;
  readonly draft: CalibrationDraft;
  readonly row: number;
  readonly factor: Decimal | null;
}

function Scales({ context, draft, row, factor }: ScalesProps) {
  const { train, microscope, micrometer } = context;
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  const pitch = linePitch(micrometer);
  const matched = matchScales(
    settingToDraw(draft.settings, row),
    pitch.div(factor ?? decimal(train.nominalFactor)).toNumber(),
  );
  return (
    <ScalesDrawing
      reticleDivisions={eyepiece?.reticle.divisions ?? 100}
      micrometerDivisions={micrometer.divisions}
      match={matched.match}
      isRead={matched.isRead}
      marks={matched.marks}
      tolerance={bandOf(draft) / 2}
      words={matchWords(matched, pitch)}
    />
  );
}

/** The draft in the window, kept by the service whenever typing pauses. */
function useKeptDraft(record: CalibrationRecord) {
  const client = useClient();
  const [draft, setDraft] = useState(() => draftOf(record));
  const [kept, setKept] = useState<KeptState>({ state: "kept" });
  const keeper = useMemo(() => new DraftKeeper(client, setKept), [client]);
  useEffect(() => () => void keeper.flush(), [keeper]);
  return {
    draft,
    kept,
    change: (next: CalibrationDraft): void => {
      setDraft(next);
      keeper.keep(inputOf(record.id, next));
    },
    flush: () => keeper.flush(),
  };
}

function KeptWords({ kept }: { kept: KeptState }) {
  if (kept.state === "refused") {
    return <RefusalNotice error={kept.error} />;
  }
  return (
    <p className={styles.soft}>{kept.state === "kept" ? "Kept as typed." : "Keeping what you type …"}</p>
  );
}
