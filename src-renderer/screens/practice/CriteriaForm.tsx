import { useState } from "react";
import type { PracticeCriteria } from "#core/contract/records/practice.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsOfCall, problemsOfNumbers } from "../../parts/form/form-checks.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";

const SOURCE = "A proposal of this program: common practice, no source. The laboratory decides.";

/** What the laboratory asks of its readers. */
export function CriteriaForm() {
  const criteria = useCall("practice.criteria", {});
  const [saved, setSaved] = useState(0);
  return (
    <Panel
      title="Criteria of practice"
      lead="For attempts begun from now on; attempts keep the criteria they were begun under."
    >
      <CallNotice calls={[criteria]} waiting="Reading the criteria …" />
      {saved > 0 ? <Notice kind="done" live title="The criteria are kept." /> : null}
      {criteria.data ? (
        <Fields
          key={JSON.stringify(criteria.data)}
          criteria={criteria.data}
          onSaved={() => setSaved(saved + 1)}
        />
      ) : null}
    </Panel>
  );
}

function Fields({ criteria, onSaved }: { criteria: PracticeCriteria; onSaved: () => void }) {
  const client = useClient();
  const form = useForm({
    id: "practice-criteria",
    what: "the criteria of practice",
    initial: {
      mostBias: criteria.mostBias as string,
      mostScatter: criteria.mostScatter as string,
      mostFactorError: criteria.mostFactorError as string,
      leastSpan: criteria.leastSpan as string,
      leastRight: criteria.leastRight as string,
      mostSizeError: criteria.mostSizeError as string,
      mostSizeScatter: criteria.mostSizeScatter as string,
      mostSlips: criteria.mostSlips as string,
      mostCountError: criteria.mostCountError as string,
      months: String(criteria.months),
      reason: "",
    },
    check: (values) => ({
      ...problemsOfCall("practice.setCriteria", { ...values, months: Number(values.months) }),
      ...problemsOfNumbers([["months", values.months, { sign: "positive", whole: true }]]),
    }),
    send: ({ months, ...values }, requestId) =>
      client("practice.setCriteria", { requestId, ...values, months: Number(months) }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Criteria of practice" submit="Keep the criteria">
      <FieldGrid>
        <NumberField {...form.bind("mostBias", "Largest mean error")} unit="div" source={SOURCE} />
        <NumberField
          {...form.bind("mostScatter", "Largest scatter of single readings")}
          unit="div"
          source={SOURCE}
        />
        <NumberField
          {...form.bind("mostFactorError", "Largest error of a factor")}
          unit="%"
          source={SOURCE}
        />
        <NumberField {...form.bind("leastSpan", "Least span of settings")} unit="div" source={SOURCE} />
        <NumberField {...form.bind("leastRight", "Least part of right answers")} unit="%" source={SOURCE} />
        <NumberField
          {...form.bind("mostSizeError", "Largest mean error of sizes")}
          unit="%"
          source={SOURCE}
        />
        <NumberField {...form.bind("mostSizeScatter", "Largest scatter of sizes")} unit="%" source={SOURCE} />
        <NumberField
          {...form.bind("mostSlips", "Most rows with a wrong objective")}
          unit="%"
          source={SOURCE}
        />
        <NumberField {...form.bind("mostCountError", "Largest error of a count")} unit="%" source={SOURCE} />
        <NumberField {...form.bind("months", "Taken as proven for")} unit="months" source={SOURCE} />
        <TextField {...form.bind("reason", "Reason for the change")} />
      </FieldGrid>
    </FormFrame>
  );
}
