import { workingWords } from "#core/calibration/working-factor.ts";
import type { TraceChain } from "#core/contract/records/trace.ts";
import { AttachmentList } from "../../parts/attachments/AttachmentList.tsx";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { outcomeWords } from "../../parts/calibration/AssessmentWords.tsx";
import { CheckTable } from "../../parts/calibration/CheckTable.tsx";
import {
  BUDGET_COLUMNS,
  SETTING_COLUMNS,
  settingRows,
} from "../../parts/calibration/calibration-columns.tsx";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./Trace.module.css";

export interface ChainPartProps {
  readonly chain: TraceChain;
  readonly nameOf: (id: string | null) => string;
}

/** The calibration a result was converted with: settings as typed, budget, who answers for it. */
export function ChainCalibration({ chain, nameOf }: ChainPartProps) {
  const navigation = useNavigation();
  const { calibration } = chain;
  if (!calibration) {
    return (
      <Panel title="3 · Calibration">
        <Notice kind="care" title="None: the reading was never converted.">
          Without a calibration in force a row keeps its divisions and no micrometres.
        </Notice>
      </Panel>
    );
  }
  const { record, approval, stateThen, attachments, checks } = calibration;
  const { result } = record;
  return (
    <Panel
      title="3 · Calibration"
      lead={chain.trainName}
      actions={
        <Button
          onClick={() =>
            navigation.go({ screen: "trace", result: null, subject: { kind: "calibration", id: record.id } })
          }
        >
          Other affected results
        </Button>
      }
    >
      <div className={styles.stack}>
        <Facts
          facts={[
            [
              "Factor ± U",
              result
                ? `${result.shownFactor} ± ${result.shownUncertainty} µm/div${workingWords(result)}`
                : "",
            ],
            ["Factor, all its digits", result ? `${result.factor} µm/div` : "", "whole line"],
            ["State then, and now", `${stateThen}; ${record.state}`],
            ["Calibrated by", `${nameOf(record.personId)}, ${shownInstant(record.startedAt)}`],
            [
              "Put in force by",
              record.inForceAt ? `${nameOf(record.inForceBy)}, ${shownInstant(record.inForceAt)}` : "",
            ],
            [
              "Confirmed by",
              approval.confirmation
                ? `${nameOf(approval.confirmation.by)}, ${shownInstant(approval.confirmation.at)}`
                : "nobody",
            ],
            ["Due", record.dueOn],
            [
              "Made by",
              approval.origin === "recalculated"
                ? "recalculation from the settings of an earlier one"
                : "measuring the settings below",
            ],
            [
              "Verdict",
              approval.assessments[0]
                ? [outcomeWords(approval.assessments[0]), ...approval.assessments[0].remarks].join(" ")
                : "assessed by an older rule, not kept: assess it anew in Records",
            ],
            ["Temperature", `${record.conditions.temperature} °C`],
          ]}
        />
        <DataTable
          caption="Settings as typed"
          columns={SETTING_COLUMNS}
          rows={settingRows(record.settings)}
          rowKey={(one) => String(one.number)}
          empty="No setting."
        />
        {result ? (
          <DataTable
            caption="Uncertainty budget of the factor"
            columns={BUDGET_COLUMNS}
            rows={result.budget}
            rowKey={(one) => one.key}
            empty="No component."
          />
        ) : null}
        {checks.length > 0 ? <CheckTable checks={checks} nameOf={nameOf} /> : null}
        {attachments.length > 0 ? <AttachmentList attachments={attachments} /> : null}
      </div>
    </Panel>
  );
}
