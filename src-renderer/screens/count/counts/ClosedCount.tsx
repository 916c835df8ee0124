import { useMemo, useState } from "react";
import type { Count, CountField } from "#core/contract/records/count.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import type { Recount } from "#core/contract/records/recount.ts";
import { picturesOfFields } from "#core/counting/field-pictures.ts";
import { EDGE_RULES } from "#core/counting/methods/edge-rules.ts";
import { placeWords } from "#core/measurement/place-words.ts";
import { fibreRuleOf } from "#core/methods/fibre-rules.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import {
  type PaperPicture,
  PaperPictures,
  PicturesChoice,
  usePaperPictures,
} from "../../../parts/attachments/PaperPictures.tsx";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { Caution } from "../../../parts/Caution.tsx";
import { OverdueUses } from "../../../parts/calibration/OverdueNotice.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfCall } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../../parts/layout/ScreenFrame.tsx";
import { UnprovenNotice } from "../../../parts/people/UnprovenNotice.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { Biovolumes } from "../biovolumes/Biovolumes.tsx";
import styles from "../CountTab.module.css";
import { ControlPanel } from "../controls/ControlPanel.tsx";
import { FibreRulePanel } from "../fibres/FibreRulePanel.tsx";
import { EdgeDrawing } from "../methods/EdgeDrawing.tsx";
import { SeriesPanel } from "../series/SeriesPanel.tsx";
import type { CountContext } from "../state/count-context.ts";
import type { LiveCount } from "../state/live-counts.ts";
import { problemsOfReason } from "./count-form.ts";
import { ExportPanel } from "./ExportPanel.tsx";
import { FieldMap } from "./FieldMap.tsx";
import { type AboutField, FieldTable } from "./FieldTable.tsx";
import { PressReplay } from "./PressReplay.tsx";
import { ResultPanel } from "./ResultPanel.tsx";
import { ScatterDetails } from "./ScatterDetails.tsx";

export interface ClosedCountProps {
  readonly context: CountContext;
  readonly live: LiveCount;
  readonly onReload: () => void;
}

/** A closed count: its frozen results, its fields, and what can still be done with it. */
export function ClosedCount({ context, live, onReload }: ClosedCountProps) {
  const navigation = useNavigation();
  const personName = usePersonName();
  const { count } = live.store.state();
  const { definition, version } = context.method;
  const fibres = fibreRuleOf(definition.fibreRuleId);
  const rule = EDGE_RULES.find((one) => one.id === definition.edgeRuleId);
  const { about, pictures } = useAboutFields(context.state.count.id, context.state.fields);
  const paper = usePaperPictures();
  return (
    <ScreenFrame
      title={`${count.number} · ${count.sample}`}
      lead={`${count.customer ? `For ${count.customer}. ` : ""}${definition.name}, version ${version}; closed ${count.closedAt ? shownInstant(count.closedAt) : ""} by ${count.closedBy ? personName(count.closedBy) : ""}`}
      actions={
        <Button onClick={() => navigation.go({ screen: "count", part: "counts", recordId: null })}>
          All counts
        </Button>
      }
    >
      <div className={styles.tab}>
        <div className={styles.stack}>
          <Panel title="Results" lead="Frozen when the count was closed.">
            {count.results ? (
              <div className={styles.stack}>
                <p>
                  Total {count.results.total} in {count.results.fields} finished fields.
                </p>
                <ResultPanel
                  results={count.results}
                  definition={definition}
                  categories={count.categories}
                  saidElsewhere={definition.cautions}
                  scatter={<ScatterDetails store={live.store} />}
                >
                  <Biovolumes
                    count={count}
                    results={count.results}
                    definition={definition}
                    onChanged={(next) => live.store.dispatch({ type: "count", count: next })}
                  />
                </ResultPanel>
                {definition.cautions.map((caution) => (
                  <Caution key={caution}>{caution}</Caution>
                ))}
                <UnprovenNotice work="count" id={count.id} />
                <OverdueUses work="count" workId={count.id} />
              </div>
            ) : null}
          </Panel>
        </div>
        <div className={styles.stack}>
          <ExportPanel countId={count.id} isDrawing={paper.isDrawing} />
          {pictures.length > 0 ? (
            <Panel title="Pictures of fields">
              <div className={styles.stack}>
                <span data-screen-only>
                  <PicturesChoice count={pictures.length} of="fields" paper={paper} />
                </span>
                {paper.isWanted ? (
                  <PaperPictures title="Pictures of fields" pictures={pictures} onSettled={paper.settled} />
                ) : null}
              </div>
            </Panel>
          ) : null}
          {rule ? (
            <Panel title="Objects across the edge">
              <EdgeDrawing rule={rule} />
              <p>
                {rule.name} ({rule.source}; {rule.standing})
              </p>
            </Panel>
          ) : null}
          {fibres ? (
            <Panel title="What counts as a fibre">
              <FibreRulePanel rule={fibres} />
            </Panel>
          ) : null}
          {context.state.fields.some(({ position }) => position !== null) ? (
            <Panel title="Map of counted fields">
              <FieldMap fields={context.state.fields} />
            </Panel>
          ) : null}
          <Panel title="Fields" lead="Objects by field and category.">
            <FieldTable fields={live.store.state().fields} categories={count.categories} about={about} />
          </Panel>
          <PressReplay count={count} />
          <ControlPanel
            count={count}
            method={context.method}
            onChanged={(next) => live.store.dispatch({ type: "count", count: next })}
          />
          <SeriesPanel count={count} />
          <RecountPlan count={count} />
          <Reopen count={count} live={live} onReload={onReload} />
        </div>
      </div>
    </ScreenFrame>
  );
}

/** Where the fields lie and which pictures stand beside them, in words and for paper. */
function useAboutFields(countId: string, fields: readonly CountField[]) {
  const all = useCall("attachments.ofCount", { countId }).data;
  return useMemo(() => {
    const shown = picturesOfFields(all ?? [], fields.length);
    const about = new Map<number, AboutField>();
    const pictures: PaperPicture[] = [];
    for (const { ordinal, position } of fields) {
      const own = shown.get(ordinal) ?? [];
      const place = position ? placeWords(position) : "";
      about.set(ordinal, { place, pictures: own.map(({ caption, fileName }) => caption || fileName) });
      const of = place === "" ? `Field ${ordinal}` : `Field ${ordinal}, ${place}`;
      for (const attachment of own) pictures.push({ attachment, of });
    }
    return { about, pictures };
  }, [all, fields]);
}

function RecountPlan({ count }: { count: Count }) {
  const client = useClient();
  const navigation = useNavigation();
  const form = useForm<{ readonly share: string }, Recount>({
    id: `recount-${count.id}`,
    what: "the plan of a recount",
    initial: { share: "0.1" },
    check: (typed) => problemsOfCall("recounts.planFields", typed),
    send: ({ share }, requestId) => client("recounts.planFields", { requestId, countId: count.id, share }),
    onSaved: (recount) => navigation.go({ screen: "count", part: "recounts", recordId: recount.id }),
  });
  return (
    <Panel title="Recount" lead="Fields drawn at random are counted again; the first result stays hidden.">
      <FormFrame form={form} submit="Draw the fields" label="Plan a recount">
        <NumberField {...form.bind("share", "Share of the fields")} hint="0.1 is one field in ten." />
      </FormFrame>
    </Panel>
  );
}

function Reopen({ count, live, onReload }: { count: Count; live: LiveCount; onReload: () => void }) {
  const client = useClient();
  const [open, setOpen] = useState(false);
  const form = useForm<{ readonly reason: string }, Count>({
    id: `reopen-${count.id}`,
    what: "the reason for opening the count again",
    initial: { reason: "" },
    check: ({ reason }) => problemsOfReason(reason),
    send: ({ reason }, requestId) =>
      client("counts.reopen", { requestId, countId: count.id, reason: Reason.parse(reason) }),
    onSaved: (next) => {
      live.store.dispatch({ type: "count", count: next });
      onReload();
    },
  });
  if (!open) return <Button onClick={() => setOpen(true)}>Open the count again …</Button>;
  return (
    <Panel title="Open the count again" lead="It is paused then; the frozen results stay in the audit trail.">
      <FormFrame
        form={form}
        submit="Open it again"
        label="Open the count again"
        onCancel={() => setOpen(false)}
      >
        <TextField {...form.bind("reason", "Reason")} autoFocus />
      </FormFrame>
    </Panel>
  );
}
