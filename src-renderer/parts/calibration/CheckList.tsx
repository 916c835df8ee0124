import { useState } from "react";
import type { CheckRecord } from "#core/contract/records/check.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { CheckTable } from "./CheckTable.tsx";
import { WithdrawForm } from "./WithdrawForm.tsx";

/** Quick checks, each of which can be withdrawn with a reason. */
export function CheckList({ checks }: { checks: readonly CheckRecord[] }) {
  const nameOf = usePersonName();
  const [chosen, setChosen] = useState<CheckRecord | null>(null);
  return (
    <>
      {chosen ? <WithdrawCheck check={chosen} onDone={() => setChosen(null)} /> : null}
      <CheckTable checks={checks} nameOf={nameOf} onWithdraw={setChosen} />
    </>
  );
}

/** Takes a mistaken check back. */
export function WithdrawCheck({ check, onDone }: { check: CheckRecord; onDone: () => void }) {
  const client = useClient();
  return (
    <WithdrawForm
      key={check.id}
      id={check.id}
      what="the check"
      title="From then on this check counts for nothing."
      send={(reason, requestId) => client("checks.withdraw", { requestId, checkId: check.id, reason })}
      onSaved={onDone}
      onCancel={onDone}
    >
      State of the train, due dates and trends are as if it had not been made, and so is the flag “check
      before use” of what was read since. On a closed sheet that is an amendment, and a signature falls; a
      closed count keeps its results. The check stays in the list with your reason.
    </WithdrawForm>
  );
}
