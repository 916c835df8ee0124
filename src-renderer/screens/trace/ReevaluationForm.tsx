import { Reason } from "#core/contract/records/primitives.ts";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import type { ForwardTrace, TouchedSheet } from "#core/contract/records/trace.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import type { Scope } from "./forward-scope.ts";

export interface ReevaluationFormProps {
  readonly scope: Scope;
  readonly forward: ForwardTrace;
  readonly chosen: readonly TouchedSheet[];
  readonly isAll: boolean;
}

/** Converts the results of the sheets taken with the replacement: an act with its reason that keeps the old results. */
export function ReevaluationForm({ scope, forward, chosen, isAll }: ReevaluationFormProps) {
  const client = useClient();
  const { subject, from, to, replacement } = scope;
  const form = useForm<{ reason: string }, Reevaluation>({
    id: `reevaluate-${subject.kind.replaceAll(" ", "-")}-${subject.id}`,
    what: "the re-evaluation you began",
    initial: { reason: "" },
    root: "reevaluation",
    check: ({ reason }) => {
      const problem = Reason.safeParse(reason).error?.issues[0]?.message;
      if (problem) return { reason: problem };
      return chosen.length === 0 ? { reason: "has no sheet to be about: take at least one above" } : {};
    },
    send: async ({ reason }, requestId) => {
      if (!replacement) throw new Error("drawn without a replacement");
      const sheetIds = isAll ? null : chosen.map((one) => one.sheet.id);
      return client("reevaluations.begin", {
        requestId,
        reevaluation: { subject, from, to, sheetIds, replacement, reason },
      });
    },
    onSaved: () => undefined,
  });
  const results = chosen.reduce((sum, one) => sum + one.results, 0);
  const signed = chosen.filter((one) => one.signOff === "signed" || one.signOff === "reviewed").length;
  return (
    <Panel
      title="Re-evaluate"
      lead={`${countedNoun(results, "result")} on ${countedNoun(chosen.length, "sheet")}${isAll ? ", all of them" : ""}, with ${forward.replacementName ?? "the replacement"}.`}
    >
      <FormFrame form={form} label="Re-evaluate" submit={`Re-evaluate ${isAll ? "all" : "the sheets taken"}`}>
        <Notice kind="care" title="The old results are kept beside the new ones.">
          The recalculated calibrations take the place of those in force.
          {signed > 0
            ? ` ${countedNoun(signed, "signed or reviewed sheet")} will ask for signature again.`
            : " No signature is touched."}
        </Notice>
        <TextField {...form.bind("reason", "Reason")} lines={2} />
      </FormFrame>
    </Panel>
  );
}
