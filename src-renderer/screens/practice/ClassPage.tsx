import { type ReactNode, useState } from "react";
import type { PracticeClass } from "#core/contract/records/practice-class.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { ClassForm } from "./ClassForm.tsx";
import { ClassMembers } from "./ClassMembers.tsx";
import { ClassReportPanels } from "./ClassReportPanels.tsx";
import { SlideReadings } from "./SlideReadings.tsx";
import { useClassWorkbook } from "./use-class-workbook.tsx";

/** People who practise together: a list of names is enough. */
export function ClassPage({ onOpen }: { onOpen: (attemptId: string) => void }) {
  const classes = useCall("practice.classes", {});
  const [chosen, setChosen] = useState<string | null>(null);
  const [adding, setAdding] = useState(false);
  const all = classes.data ?? [];
  const shown = all.find(({ id }) => id === chosen) ?? all[0] ?? null;
  const isNew = adding || (classes.data !== undefined && all.length === 0);
  return (
    <>
      <CallNotice calls={[classes]} waiting="Reading the classes …" />
      {isNew ? (
        <Panel title="New class" lead="No microscope is needed, and nothing is put in force.">
          <ClassForm
            onSaved={(made) => {
              setChosen(made.id);
              setAdding(false);
            }}
            onCancel={all.length === 0 ? null : () => setAdding(false)}
          />
        </Panel>
      ) : null}
      {shown && !isNew ? (
        <>
          <ClassHead of={shown} onNew={() => setAdding(true)}>
            {all.length > 1 ? (
              <SelectField
                id="practice-class"
                label="Class"
                value={shown.id}
                choices={all.map(({ id, name }) => ({ value: id, words: name }))}
                onChange={setChosen}
              />
            ) : null}
            <ClassMembers key={shown.id} of={shown} onOpen={onOpen} />
          </ClassHead>
          <OfClass key={`report ${shown.id}`} of={shown} />
        </>
      ) : null}
    </>
  );
}

function OfClass({ of }: { of: PracticeClass }) {
  return (
    <>
      {of.slide === "" ? null : <SlideReadings of={of} />}
      <ClassReportPanels of={of} />
    </>
  );
}

function ClassHead({ of, onNew, children }: { of: PracticeClass; onNew: () => void; children: ReactNode }) {
  const { button, notice } = useClassWorkbook(of.id);
  return (
    <Panel
      title={`Practice of the class ${of.name}`}
      lead={of.seed === null ? "Everybody gets pictures of their own." : `Seed ${of.seed} for all.`}
      actions={
        <>
          <Button onClick={onNew}>New class</Button>
          <PrintButton />
          {button}
        </>
      }
    >
      {notice}
      {children}
    </Panel>
  );
}
