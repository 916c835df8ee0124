import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";

/** Whether a second person has confirmed a calibration, and the way to do it. */
export function ConfirmationPanel({ calibration }: { calibration: CalibrationRecord }) {
  const nameOf = usePersonName();
  const approvals = useCall("calibrations.approvals", { trainId: calibration.trainId });
  const approval = approvals.data?.find((one) => one.calibrationId === calibration.id);
  const { confirmation, confirmationWanted, origin } = approval ?? {};
  return (
    <Panel title="Confirmation by a second person">
      <CallNotice calls={[approvals]} waiting="Reading the confirmation …" />
      {origin === "recalculated" ? (
        <Notice>It was recalculated from the settings of an earlier calibration, not measured anew.</Notice>
      ) : null}
      {confirmation ? (
        <Notice
          kind="done"
          title={`Confirmed by ${nameOf(confirmation.by)}, ${shownInstant(confirmation.at)}.`}
        >
          {confirmation.words}
        </Notice>
      ) : null}
      {approval && !confirmation ? (
        <>
          <p>
            {confirmationWanted
              ? "Not confirmed yet; this laboratory asks for it, and the train is marked until then."
              : "Not confirmed. This laboratory does not ask for it."}
          </p>
          {calibration.state === "in force" ? <ConfirmForm calibration={calibration} /> : null}
        </>
      ) : null}
    </Panel>
  );
}

function ConfirmForm({ calibration }: { calibration: CalibrationRecord }) {
  const client = useClient();
  const form = useForm({
    id: `confirm-${calibration.id}`,
    what: "the confirmation of a calibration",
    initial: { words: "" },
    send: ({ words }, requestId) =>
      client("calibrations.confirm", { requestId, calibrationId: calibration.id, words }),
    onSaved: () => undefined,
  });
  return (
    <FormFrame form={form} label="Confirm the calibration" submit="I confirm it">
      <TextField
        {...form.bind("words", "What was looked at")}
        lines={2}
        optional
        hint="By the person at the bench, who must be another than the one who calibrated and the one who put it in force."
      />
    </FormFrame>
  );
}
