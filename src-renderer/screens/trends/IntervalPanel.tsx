import { useState } from "react";
import {
  type IntervalAdvice,
  NewTolerance,
  type TrainTrend,
  type TrendTolerance,
} from "#core/contract/records/trend.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { DECISION_RULES } from "#core/vocabulary/decision-rules.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { RULE_WORDS } from "../../parts/bench-words/method-words.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../parts/form/form-checks.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import styles from "./Trends.module.css";

const METHODS: readonly Column<IntervalAdvice["methods"][number]>[] = [
  { key: "name", title: "Method", names: true, cell: (one) => one.name },
  { key: "days", title: "Days", number: true, cell: (one) => one.days ?? "–" },
  { key: "reason", title: "Why", cell: (one) => one.reason },
  { key: "source", title: "Source", cell: (one) => one.source },
];

/** A proposal for the next calibration, and the tolerance it goes by. */
export function IntervalPanel({ trend }: { trend: TrainTrend }) {
  const { advice, tolerance } = trend;
  const [changing, setChanging] = useState(false);
  return (
    <Panel
      title="Next calibration"
      lead="A proposal: nothing is changed by it."
      actions={changing ? undefined : <Button onClick={() => setChanging(true)}>Change the tolerance</Button>}
    >
      <div className={styles.stack}>
        {changing ? <ToleranceForm before={tolerance} onDone={() => setChanging(false)} /> : null}
        <p>
          {advice.proposedDays === null ? (
            <strong>No proposal. </strong>
          ) : (
            <strong>
              After {advice.proposedDays} days
              {advice.proposedDue ? `, on ${advice.proposedDue}` : ""}.{" "}
            </strong>
          )}
          <Unbroken text={historyWords(trend)} />
        </p>
        <DataTable
          caption="Methods"
          captionHidden
          columns={METHODS}
          rows={advice.methods}
          rowKey={(one) => one.name}
          empty="No method."
        />
      </div>
    </Panel>
  );
}

function historyWords({ advice, dueOn }: TrainTrend): string {
  const usual =
    advice.usualDays === null ? "" : ` So far it was every ${countedNoun(advice.usualDays, "day")}.`;
  const due = dueOn === null ? "" : ` The one in force is due on ${dueOn}.`;
  return `${advice.reason}${usual}${due}`;
}

function ToleranceForm({ before, onDone }: { before: TrendTolerance; onDone: () => void }) {
  const client = useClient();
  const form = useForm({
    id: "trend-tolerance",
    what: "a tolerance for factors",
    initial: { percent: String(before.percent), rule: before.rule, reason: "" },
    root: "tolerance",
    check: (typed) => problemsBySchema(NewTolerance, typed),
    send: (tolerance, requestId) => client("trends.setTolerance", { requestId, tolerance }),
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} label="Tolerance of factors" submit="Decide this tolerance" onCancel={onDone}>
      <FieldGrid>
        <NumberField {...form.bind("percent", "Tolerance")} unit="%" autoFocus />
        <SelectField
          {...form.bind("rule", "Decision rule")}
          choices={DECISION_RULES.map((value) => ({ value, words: RULE_WORDS[value] }))}
          hint="JCGM 106:2012, simple or guarded acceptance; printed beside every decision."
        />
        <TextField {...form.bind("reason", "Reason")} />
      </FieldGrid>
    </FormFrame>
  );
}
