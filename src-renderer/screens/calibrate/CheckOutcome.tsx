import type { CheckRecord } from "#core/contract/records/check.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { Button } from "../../parts/Button.tsx";
import { asPercent, toFour } from "../../parts/bench-words/figures.ts";
import { TouchedButton } from "../../parts/bench-words/TouchedButton.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";

/** Whether a check has passed, by how much, and what to do when it has not. */
export function CheckOutcome({ check, trainId }: { check: CheckRecord; trainId: string }) {
  const navigation = useNavigation();
  const { factor, factorInForce, relativeDifference, limit, ratio, compared, passed } = check.result;
  const limitShare = asPercent(decimal(limit).div(factorInForce).toFixed());
  return (
    <Notice
      kind={passed ? "done" : "fault"}
      live
      title={passed ? "Passed: the factor in force holds." : "Not passed: the factor in force is in doubt."}
      hint={
        passed
          ? undefined
          : "Repeat it once with fresh focus. If it stays so, calibrate the train and look forward at what it touched."
      }
    >
      <p>
        Found {toFour(factor)} µm/div against {toFour(factorInForce)} µm/div: {asPercent(relativeDifference)}{" "}
        with a limit of {limitShare} ({asPercent(ratio)} of the limit used;{" "}
        {compared === "occasion" ? "same certificate, so its uncertainty cancels out" : "another certificate"}
        ).
      </p>
      {passed ? null : (
        <p>
          <Button onClick={() => navigation.go({ screen: "calibrate", trainId, calibrationId: null })}>
            Calibrate it
          </Button>{" "}
          <TouchedButton subject={{ kind: "calibration", id: check.calibrationId }} />
        </p>
      )}
    </Notice>
  );
}
