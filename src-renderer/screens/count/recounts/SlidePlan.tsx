import type { Recount } from "#core/contract/records/recount.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfCall } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";

/** Draws whole slides for a recount from all closed counts. */
export function SlidePlan({ closedIds }: { closedIds: readonly string[] }) {
  const client = useClient();
  const form = useForm<{ readonly share: string }, readonly Recount[]>({
    id: "recount-slides",
    what: "the plan of recounted slides",
    initial: { share: "0.1" },
    check: ({ share }) => problemsOfCall("recounts.planSlides", { share }),
    send: ({ share }, requestId) =>
      client("recounts.planSlides", { requestId, countIds: [...closedIds], share }),
    onSaved: () => undefined,
  });
  return (
    <Panel
      title="Whole slides again"
      lead={`Drawn at random from the ${closedIds.length} closed counts; each is counted again in fields of its own.`}
    >
      <FormFrame form={form} submit="Draw the slides" label="Plan recounts of slides">
        <NumberField {...form.bind("share", "Share of the closed counts")} hint="0.1 is one in ten." />
      </FormFrame>
    </Panel>
  );
}
