import type { KeptAssessment } from "#core/contract/records/assessment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { ASSESSMENT_RULE } from "#core/vocabulary/rules.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { shownInstant } from "../bench-words/instant.ts";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { CallNotice } from "../CallNotice.tsx";
import { FormFrame } from "../form/FormFrame.tsx";
import { TextField } from "../form/TextField.tsx";
import { useForm } from "../form/use-form.ts";
import { Panel } from "../layout/Panel.tsx";
import { Notice } from "../Notice.tsx";
import { AssessmentWords, outcomeWords } from "./AssessmentWords.tsx";

/** The verdict as it was kept when a calibration was put in force or assessed anew, and the way to assess it anew. */
export function AssessmentPanel({ calibration }: { calibration: CalibrationRecord }) {
  const nameOf = usePersonName();
  const approvals = useCall("calibrations.approvals", { trainId: calibration.trainId });
  const approval = approvals.data?.find((one) => one.calibrationId === calibration.id);
  const [newest, ...before] = approval?.assessments ?? [];
  const by = (one: KeptAssessment): string => `${shownInstant(one.at)} by ${nameOf(one.by)}: ${one.reason}`;
  return (
    <Panel title="Verdict" lead={newest ? `Assessed ${by(newest)}` : "Advice against stated limits."}>
      <CallNotice calls={[approvals]} waiting="Reading the assessment …" />
      {approval && newest?.rule !== ASSESSMENT_RULE ? (
        <>
          <Notice kind="care" title="Assessed by an older rule.">
            {newest
              ? "The verdict below was given by a rule that is no longer in use."
              : "Its verdict was not kept, and may have named a distortion of the field that was not there: repeats of the same lines were taken for one. The factor itself stands."}
          </Notice>
          <AssessForm calibrationId={calibration.id} />
        </>
      ) : null}
      {newest ? <AssessmentWords of={newest} /> : null}
      {newest?.rule === ASSESSMENT_RULE ? (
        <details>
          <summary>Assess it anew</summary>
          <p>As when the factor it was compared with has been withdrawn since.</p>
          <AssessForm calibrationId={calibration.id} />
        </details>
      ) : null}
      {before.length > 0 ? (
        <details>
          <summary>Earlier assessments</summary>
          <ul>
            {before.map((one) => (
              <li key={one.at}>
                {outcomeWords(one)} {one.remarks.join(" ")} Assessed {by(one)}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </Panel>
  );
}

function AssessForm({ calibrationId }: { calibrationId: string }) {
  const client = useClient();
  const form = useForm({
    id: `assess-${calibrationId}`,
    what: "the reason for a new assessment",
    initial: { reason: "" },
    send: ({ reason }, requestId) => client("calibrations.assess", { requestId, calibrationId, reason }),
    onSaved: () => undefined,
  });
  return (
    <FormFrame form={form} label="Assess anew" submit="Assess anew">
      <TextField
        {...form.bind("reason", "Reason")}
        hint="Readings and factor stay as they are; the new verdict is kept beside the earlier ones."
      />
    </FormFrame>
  );
}
