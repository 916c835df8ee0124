import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Notice } from "../../parts/Notice.tsx";

export interface WithdrawFormProps {
  readonly calibration: CalibrationRecord;
  readonly onSaved: () => void;
  readonly onCancel: () => void;
}

/** Takes a calibration out of force, with the reason. */
export function WithdrawForm({ calibration, onSaved, onCancel }: WithdrawFormProps) {
  const client = useClient();
  const form = useForm({
    id: `withdraw-${calibration.id}`,
    what: "the withdrawal you began",
    initial: { reason: "" },
    check: ({ reason }) => {
      const problem = Reason.safeParse(reason).error?.issues[0]?.message;
      return problem ? { reason: problem } : {};
    },
    send: ({ reason }, requestId) =>
      client("calibrations.withdraw", { requestId, calibrationId: calibration.id, reason }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Withdraw the calibration" submit="Withdraw" onCancel={onCancel}>
      <Notice kind="care" title="From then on this train has no factor.">
        Rows already measured keep the factor they were converted with; new rows stay in divisions until the
        train is calibrated again.
      </Notice>
      <TextField {...form.bind("reason", "Reason")} lines={2} autoFocus />
    </FormFrame>
  );
}
