import { useState } from "react";
import { factorUnderTrial } from "#core/calibration/factor-simulation.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { asPercent, toFour } from "../../parts/bench-words/figures.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { COVERAGE_WORDS } from "../../parts/bench-words/method-words.ts";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { TouchedButton } from "../../parts/bench-words/TouchedButton.tsx";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { useTrainName } from "../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { AssessmentPanel } from "../../parts/calibration/AssessmentPanel.tsx";
import { CheckList } from "../../parts/calibration/CheckList.tsx";
import {
  BUDGET_COLUMNS,
  SETTING_COLUMNS,
  settingRows,
} from "../../parts/calibration/calibration-columns.tsx";
import { FactorTrials } from "../../parts/calibration/FactorTrials.tsx";
import { OverdueUses } from "../../parts/calibration/OverdueNotice.tsx";
import { WithdrawForm } from "../../parts/calibration/WithdrawForm.tsx";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { AttachmentsPanel } from "../registers/item/AttachmentsPanel.tsx";
import { ChainCertificate } from "../trace/ChainCertificate.tsx";
import { ConfirmationPanel } from "./ConfirmationPanel.tsx";
import styles from "./RecordsTab.module.css";

const ESTIMATORS = {
  "origin-regression": "line through the origin, reticle on length",
  "mean-of-ratios": "mean of the ratios",
} as const;

/** One calibration in full: factor, how it came about, who answers for it. */
export function CalibrationDetail({
  calibration,
  onBack,
}: {
  calibration: CalibrationRecord;
  onBack: () => void;
}) {
  const nameOf = usePersonName();
  const trainName = useTrainName();
  const client = useClient();
  const checks = useCall("checks.list", { trainId: calibration.trainId });
  const attached = useCall("attachments.list", { subject: null });
  const micrometers = useCall("micrometers.list", {});
  const [withdrawing, setWithdrawing] = useState(false);
  const { result, state } = calibration;
  const micrometer = micrometers.data?.find((one) => one.id === calibration.stageMicrometerId);
  const certificate = micrometer?.certificates.find((one) => one.id === calibration.certificateId);
  return (
    <>
      <Panel
        title={`${trainName(calibration.trainId)}: ${state}`}
        actions={
          <>
            <Button onClick={onBack}>All calibrations</Button>
            {result ? <TouchedButton subject={{ kind: "calibration", id: calibration.id }} /> : null}
            <PrintButton />
            {state === "in force" && !withdrawing ? (
              <Button onClick={() => setWithdrawing(true)}>Withdraw it</Button>
            ) : null}
          </>
        }
      >
        <div className={styles.stack}>
          {withdrawing ? (
            <WithdrawForm
              id={calibration.id}
              what="the calibration"
              title="From then on this train has no factor."
              send={(reason, requestId) =>
                client("calibrations.withdraw", { requestId, calibrationId: calibration.id, reason })
              }
              onSaved={() => setWithdrawing(false)}
              onCancel={() => setWithdrawing(false)}
            >
              Rows already measured keep the factor they were converted with; new rows stay in divisions until
              the train is calibrated again.
            </WithdrawForm>
          ) : null}
          <ResultFigure
            label="Factor"
            value={result?.shownFactor ?? null}
            uncertainty={result?.shownUncertainty}
            unit="µm/div"
            coverage={result ? `U, k = ${toFour(result.coverageFactor)}` : undefined}
          />
          <Facts
            facts={[
              ["Begun", `${shownInstant(calibration.startedAt)}, ${nameOf(calibration.personId)}`],
              [
                "In force",
                calibration.inForceAt
                  ? `${shownInstant(calibration.inForceAt)}, ${nameOf(calibration.inForceBy)}`
                  : "",
              ],
              ["Due", calibration.dueOn],
              ...(calibration.endedAt
                ? ([
                    ["Ended", `${shownInstant(calibration.endedAt)}, ${nameOf(calibration.endedBy)}`],
                    ["Why it ended", calibration.endReason],
                  ] as const)
                : []),
              ["Stage micrometer", micrometer ? `${micrometer.name}, serial ${micrometer.serial}` : ""],
              ["Certificate", certificate ? `${certificate.number}, ${certificate.laboratory}` : ""],
              ["Estimated by", ESTIMATORS[calibration.estimator]],
              ["Coverage", COVERAGE_WORDS[calibration.coverage]],
              ...(result ? resultFacts(result) : []),
              ["Remark", calibration.remark],
            ]}
          />
          <OverdueUses work="calibration" workId={calibration.id} />
          <AttachmentsPanel subject={{ kind: "calibration", id: calibration.id }} name="this calibration" />
        </div>
      </Panel>
      {micrometer && certificate ? (
        <ChainCertificate
          micrometer={micrometer}
          certificate={certificate}
          micrometerAttachments={attached.data?.filter((one) => one.subject.id === micrometer.id) ?? []}
          certificateAttachments={attached.data?.filter((one) => one.subject.id === certificate.id) ?? []}
          steps={["", "", ""]}
        />
      ) : null}
      {calibration.result ? (
        <>
          <AssessmentPanel calibration={calibration} />
          <ConfirmationPanel calibration={calibration} />
        </>
      ) : null}
      <Panel title="Checks against this factor">
        <CallNotice calls={[checks]} waiting="Reading the checks …" />
        {checks.data ? (
          <CheckList checks={checks.data.filter((one) => one.calibrationId === calibration.id)} />
        ) : null}
      </Panel>
      <Panel title="Settings as typed">
        <DataTable
          caption="Settings"
          captionHidden
          columns={SETTING_COLUMNS}
          rows={settingRows(calibration.settings)}
          rowKey={(one) => String(one.number)}
          empty="No setting."
        />
      </Panel>
      {result ? (
        <Panel title="Uncertainty budget of the factor">
          <DataTable
            caption="Uncertainty budget"
            captionHidden
            columns={BUDGET_COLUMNS}
            rows={result.budget}
            rowKey={(one) => one.key}
            empty="No component."
          />
          <FactorTrials factor={factorUnderTrial(result, calibration.coverage)} />
        </Panel>
      ) : null}
      <PaperFoot />
    </>
  );
}

function resultFacts(result: NonNullable<CalibrationRecord["result"]>) {
  return [
    ...(result.working
      ? ([
          [
            "Working factor",
            `${result.shownFactor} µm/div by the procedure; exact ${result.working.shown} µm/div`,
          ],
        ] as const)
      : []),
    ["Factor, all its digits", `${result.factor} µm/div`],
    ["Mean of ratios", `${result.meanOfRatios} µm/div`],
    ["Standard uncertainty", `${toFour(result.standardUncertainty)} µm/div`],
    [
      "Effective degrees of freedom",
      result.degreesOfFreedom === null ? "infinite" : toFour(result.degreesOfFreedom),
    ],
    ["Longest span", `${result.span} div`],
    ["Scatter about the fit", `${toFour(result.residualDeviation)} div`],
    [
      "Relative scatter of the ratios",
      result.relativeDeviation === null ? "one setting only" : asPercent(result.relativeDeviation),
    ],
  ] as const;
}
