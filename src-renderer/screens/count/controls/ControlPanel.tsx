import { useState } from "react";
import type { ControlSample } from "#core/contract/records/control-sample.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import { recoveryOfCount } from "#core/counting/controls/control-found.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountTab.module.css";
import { ControlForm } from "./ControlForm.tsx";
import { controlWords, three } from "./control-words.ts";

interface ControlPanelProps {
  readonly count: Count;
  readonly method: CountMethod;
  readonly onChanged: (count: Count) => void;
}

/** What control sample a closed count is, and what it says of the method. */
export function ControlPanel({ count, method, onChanged }: ControlPanelProps) {
  const navigation = useNavigation();
  const [asking, setAsking] = useState(false);
  const counts = useCall("counts.list", {});
  const { control } = count;
  const nameOf = (category: string): string =>
    count.categories.find(({ key }) => key === category)?.name ?? "the total";
  const numberOf = (id: string): string =>
    counts.data?.find((one) => one.id === id)?.number ?? "another count";
  return (
    <Panel title="Control sample">
      <div className={styles.stack}>
        <p>{control ? controlWords(control, nameOf, numberOf) : "It is a sample as any other."}</p>
        {control ? <RecoveryWords count={count} control={control} /> : null}
        <span className={styles.acts} data-screen-only>
          <Button onClick={() => setAsking(true)}>
            {control ? "Change the control sample …" : "It is a control sample …"}
          </Button>
          {control ? (
            <Button
              onClick={() => navigation.go({ screen: "count", part: "controls", recordId: method.familyId })}
            >
              Its series
            </Button>
          ) : null}
        </span>
        {asking ? (
          <Dialog title={`Control sample ${count.number}`} onClose={() => setAsking(false)}>
            <ControlForm
              count={count}
              method={method}
              onSaved={(saved) => {
                setAsking(false);
                onChanged(saved);
              }}
            />
          </Dialog>
        ) : null}
      </div>
    </Panel>
  );
}

function RecoveryWords({ count: { results }, control }: { count: Count; control: ControlSample }) {
  if (control.kind !== "recovery" || !results) return null;
  const found = recoveryOfCount(control, results);
  if (!found) return <p>There is no density that it could be held against.</p>;
  const { percent, lower, upper } = found;
  return (
    <p>
      <strong>{`Recovery ${three(percent.toFixed())} %, 95 % limits ${three(lower.toFixed())} to ${three(upper.toFixed())} %`}</strong>
    </p>
  );
}
