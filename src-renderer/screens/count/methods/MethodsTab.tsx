import { useState } from "react";
import { EDGE_RULES } from "#core/counting/methods/edge-rules.ts";
import { fibreRuleOf } from "#core/methods/fibre-rules.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { Caution } from "../../../parts/Caution.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { ProvenForMethod } from "../../../parts/people/ProvenForMethod.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountTab.module.css";
import { FibreRulePanel } from "../fibres/FibreRulePanel.tsx";
import { keyWords } from "../hand/counting-keys.ts";
import { EdgeDrawing } from "./EdgeDrawing.tsx";
import { MethodForm } from "./MethodForm.tsx";
import { areaWords, densityWords, limitFacts } from "./method-words.ts";
import { type OfferedMethod, offeredMethods } from "./offered-methods.ts";

/** The methods a count can follow, each in full with its source and cautions. */
export function MethodsTab({ recordId }: { recordId: string | null }) {
  const navigation = useNavigation();
  const methods = useCall("countMethods.list", {});
  const offered = offeredMethods(methods.data ?? []);
  const shown = offered.find((one) => idOf(one) === recordId) ?? offered[0];
  const [changing, setChanging] = useState(false);
  const show = (id: string): void => {
    setChanging(false);
    navigation.replace({ screen: "count", part: "methods", recordId: id });
  };
  return (
    <>
      <CallNotice calls={[methods]} waiting="Fetching the methods …" />
      <div className={styles.tab}>
        <Panel
          title="Count methods"
          lead="A ready one is taken over by the bench when a count is opened by it."
        >
          <DataTable
            caption="Methods of this bench and ready ones"
            captionHidden
            columns={columnsOf(show)}
            rows={offered}
            rowKey={idOf}
            current={shown ? idOf(shown) : null}
            empty="No methods."
          />
        </Panel>
        {shown && changing ? (
          <MethodForm
            key={shown.id}
            offered={shown}
            onSaved={(method) => {
              setChanging(false);
              show(method.id);
            }}
            onCancel={() => setChanging(false)}
          />
        ) : null}
        {shown && !changing ? <MethodFacts offered={shown} onChange={() => setChanging(true)} /> : null}
        {shown && !changing ? <ProvenForMethod exercises={shown.definition.practice} /> : null}
      </div>
    </>
  );
}

/** An id that a place of the program can carry. */
function idOf({ id }: OfferedMethod): string {
  return id.replace(" ", "_");
}

function columnsOf(show: (id: string) => void): readonly Column<OfferedMethod>[] {
  return [
    { key: "name", title: "Method", cell: ({ definition }) => definition.name, names: true },
    {
      key: "version",
      title: "Version",
      cell: ({ method }) => (method ? method.version : "ready"),
      unbroken: true,
    },
    {
      key: "show",
      title: <span className={styles.hidden}>Show</span>,
      cell: (one) => (
        <Button look="quiet" aria-label={`Show ${one.definition.name}`} onClick={() => show(idOf(one))}>
          Show
        </Button>
      ),
    },
  ];
}

function MethodFacts({ offered, onChange }: { offered: OfferedMethod; onChange: () => void }) {
  const { method, definition } = offered;
  const rule = EDGE_RULES.find((one) => one.id === definition.edgeRuleId);
  const fibres = fibreRuleOf(definition.fibreRuleId);
  const { stopping } = definition;
  return (
    <Panel
      title={definition.name}
      actions={
        <Button onClick={onChange}>{method ? "Make the next version …" : "Make your own of it …"}</Button>
      }
    >
      <div className={styles.stack}>
        {definition.cautions.map((caution) => (
          <Caution key={caution}>{caution}</Caution>
        ))}
        <Facts
          facts={[
            ["Counts", definition.countingUnit],
            ["One field is", areaWords(definition)],
            ["Density", densityWords(definition)],
            ["When to stop", `${stopping.name} (${stopping.source}; ${stopping.standing})`],
            [
              "Categories",
              definition.categories
                .map(({ name, keyCode }) => (keyCode === "" ? name : `${name} [${keyWords(keyCode)}]`))
                .join(", "),
            ],
            ...limitFacts(definition),
            ["Source", `${definition.source} (${definition.standing})`],
          ]}
        />
        {fibres ? (
          <>
            <h3>What counts as a fibre</h3>
            <FibreRulePanel rule={fibres} />
          </>
        ) : null}
        {rule ? (
          <>
            <h3>An object across the edge</h3>
            <EdgeDrawing rule={rule} />
            <p>
              {rule.name} ({rule.source}; {rule.standing})
            </p>
          </>
        ) : null}
      </div>
    </Panel>
  );
}
