import { useMemo } from "react";
import { TRACE_SUBJECTS, type TraceSubject } from "#core/contract/records/trace.ts";
import { useCall } from "../../bridge/use-call.ts";
import { useTrainName } from "../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ForwardScope } from "./ForwardScope.tsx";
import { ReevaluationPanel } from "./ReevaluationPanel.tsx";
import { type Bench, subjectChoices } from "./subject-choices.ts";

const KIND_CHOICES = TRACE_SUBJECTS.map((kind) => ({ value: kind, words: kind }));

/** As many as are asked for at once; a choice among more than these is no choice. */
const MOST_CALIBRATIONS = 20_000;

/** The choice of what one looks forward from; below it what it touched. */
export function ForwardPage({ subject }: { subject: TraceSubject | null }) {
  const navigation = useNavigation();
  const micrometers = useCall("micrometers.list", {});
  const microscopes = useCall("microscopes.list", {});
  const calibrations = useCall("calibrations.summaries", { state: null, from: 0, count: MOST_CALIBRATIONS });
  const events = useCall("events.list", { microscopeId: null });
  const replacements = useCall("certificates.replacements", {});
  const trainName = useTrainName();
  const bench = useMemo((): Bench | null => {
    if (!micrometers.data || !microscopes.data || !calibrations.data || !events.data || !replacements.data) {
      return null;
    }
    return {
      micrometers: micrometers.data,
      microscopes: microscopes.data,
      calibrations: calibrations.data.calibrations,
      events: events.data,
      replacements: replacements.data,
      trainName,
    };
  }, [micrometers.data, microscopes.data, calibrations.data, events.data, replacements.data, trainName]);
  const calls = [micrometers, microscopes, calibrations, events, replacements];
  const choose = (kind: TraceSubject["kind"], id: string | undefined): void => {
    if (id) navigation.replace({ screen: "trace", result: null, subject: { kind, id } });
  };
  const kind = subject?.kind ?? "certificate";
  const choices = bench ? subjectChoices(kind, bench) : [];
  return (
    <>
      <CallNotice calls={calls} waiting="Reading the registers …" />
      {bench ? (
        <div data-screen-only>
          <Panel title="Start from" lead="Which results are affected?">
            <FieldGrid>
              <SelectField
                id="trace-kind"
                label="Kind"
                value={kind}
                autoFocus={subject === null}
                choices={KIND_CHOICES}
                onChange={(next) => {
                  const chosen = next as TraceSubject["kind"];
                  const first = subjectChoices(chosen, bench)[0]?.value;
                  choose(chosen, first);
                }}
              />
              <SelectField
                id="trace-subject"
                label={capital(kind)}
                value={subject?.id ?? ""}
                none={subject ? undefined : "choose …"}
                choices={choices}
                onChange={(id) => choose(kind, id)}
              />
            </FieldGrid>
            {choices.length === 0 ? <Notice>There is no {kind} on this bench yet.</Notice> : null}
          </Panel>
        </div>
      ) : null}
      {bench && subject ? <ForwardScope subject={subject} bench={bench} /> : null}
      <ReevaluationPanel />
    </>
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
