import { useState } from "react";
import { CalendarDate } from "#core/contract/records/primitives.ts";
import type { TraceSubject } from "#core/contract/records/trace.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { DateField } from "../../parts/form/DateField.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ForwardResult } from "./ForwardResult.tsx";
import type { Scope } from "./forward-scope.ts";
import { type Bench, proposedReplacement, replacementChoices, replacementOf } from "./subject-choices.ts";
import styles from "./Trace.module.css";

/** Between which days, and under which replacement. */
export function ForwardScope({ subject, bench }: { subject: TraceSubject; bench: Bench }) {
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const [replacement, setReplacement] = useState(() => proposedReplacement(subject, bench));
  const problems = { from: problemOfDate(from), to: problemOfDate(to) };
  const isReadable = problems.from === null && problems.to === null;
  const scope: Scope = {
    subject,
    from: from.trim() || null,
    to: to.trim() || null,
    replacement: replacementOf(replacement),
  };
  return (
    <>
      <div data-screen-only>
        <Panel title="Period and replacement">
          <div className={styles.stack} data-screen-only>
            <FieldGrid>
              <DateField
                id="trace-from"
                label="From"
                value={from}
                onChange={setFrom}
                error={problems.from}
                optional
                hint="Default: the beginning."
              />
              <DateField
                id="trace-to"
                label="Until"
                value={to}
                onChange={setTo}
                error={problems.to}
                optional
                hint="Default: today."
              />
              <SelectField
                id="trace-replacement"
                label="Replace with"
                value={replacement}
                none="nothing: only list affected results"
                choices={replacementChoices(subject, bench)}
                onChange={setReplacement}
                hint="Each factor is derived again from its own settings with the other certificate, or the other calibration of the train is taken."
              />
            </FieldGrid>
          </div>
        </Panel>
      </div>
      {isReadable ? <Answer scope={scope} /> : null}
    </>
  );
}

function Answer({ scope }: { scope: Scope }) {
  const forward = useCall("trace.forward", scope);
  return (
    <>
      <CallNotice calls={[forward]} waiting="Looking through the sheets …" />
      {forward.data && !forward.error ? <ForwardResult forward={forward.data} scope={scope} /> : null}
    </>
  );
}

function problemOfDate(typed: string): string | null {
  if (typed.trim() === "") return null;
  return CalendarDate.safeParse(typed.trim()).error?.issues[0]?.message ?? null;
}
