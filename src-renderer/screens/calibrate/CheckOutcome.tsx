import { useState } from "react";
import type { CheckRecord } from "#core/contract/records/check.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { Button } from "../../parts/Button.tsx";
import { asPercent, toFour } from "../../parts/bench-words/figures.ts";
import { TouchedButton } from "../../parts/bench-words/TouchedButton.tsx";
import { WithdrawCheck } from "../../parts/calibration/CheckList.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";

/** How much of the limit was used: as times where a percentage would only be a long number. */
function shareWords(ratio: string): string {
  return Number(ratio) < 10
    ? `${asPercent(ratio)} of the limit`
    : `${Number(ratio).toPrecision(3)} times the limit`;
}

/** Whether a check has passed, by how much, and what to do when it has not. */
export function CheckOutcome({ check, trainId }: { check: CheckRecord; trainId: string }) {
  const navigation = useNavigation();
  const [withdrawing, setWithdrawing] = useState(false);
  if (check.withdrawn) {
    return (
      <Notice kind="note" live title="The check is withdrawn and counts for nothing.">
        <p>{check.withdrawn.reason}</p>
      </Notice>
    );
  }
  const suspects = check.result.suspects ?? [];
  const { factor, factorInForce, relativeDifference, limit, ratio, compared, passed } = check.result;
  const limitShare = asPercent(decimal(limit).div(factorInForce).toFixed());
  return (
    <Notice
      kind={passed ? "done" : "fault"}
      live
      title={titleOf(check)}
      hint={
        passed || suspects.length > 0
          ? undefined
          : "Repeat it once with fresh focus. If it stays so, calibrate the train and look forward at what it touched."
      }
    >
      <p>
        Found {toFour(factor)} µm/div against {toFour(factorInForce)} µm/div: {asPercent(relativeDifference)}{" "}
        with a limit of {limitShare} ({shareWords(ratio)};{" "}
        {compared === "occasion" ? "same certificate, so its uncertainty cancels out" : "another certificate"}
        ).
      </p>
      {suspects.map(({ cause, whatToDo }) => (
        <p key={cause}>
          <strong>{cause}.</strong> {whatToDo}
        </p>
      ))}
      {withdrawing ? <WithdrawCheck check={check} onDone={() => setWithdrawing(false)} /> : null}
      {passed || withdrawing ? null : (
        <p>
          <Button onClick={() => setWithdrawing(true)}>Withdraw this check</Button>{" "}
          <Button onClick={() => navigation.go({ screen: "calibrate", trainId, calibrationId: null })}>
            Calibrate it
          </Button>{" "}
          <TouchedButton subject={{ kind: "calibration", id: check.calibrationId }} />
        </p>
      )}
    </Notice>
  );
}

function titleOf({ result: { passed, suspects } }: CheckRecord): string {
  if (passed) return "Passed: the factor in force holds.";
  return suspects?.length
    ? "Not passed, and the reading itself is suspected."
    : "Not passed: the factor in force is in doubt.";
}
