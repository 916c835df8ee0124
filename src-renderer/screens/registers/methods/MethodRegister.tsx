import { useCall } from "../../../bridge/use-call.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import type { LocationOf } from "../../../window/location.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { RegisterFrame, shownRecord } from "../RegisterFrame.tsx";
import { MethodDetail } from "./MethodDetail.tsx";
import { MethodForm } from "./MethodForm.tsx";

/** Methods: what is read of a specimen, and how well. */
export function MethodRegister({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const methods = useCall("methods.list", {});
  const show = (recordId: string | null, form: LocationOf<"registers">["form"] = null) =>
    navigation.go({ screen: "registers", register: "methods", recordId, form });
  const method = shownRecord(methods.data, location);
  return (
    <RegisterFrame
      location={location}
      shown={method?.id ?? null}
      items={(methods.data ?? []).map((one) => ({
        id: one.id,
        name: one.definition.name,
        detail: `version ${one.version}, ${one.definition.dimensions.map((each) => each.name).join(", ")}`,
      }))}
      addWords="Define a method"
      empty="No method is defined yet."
    >
      <CallNotice calls={[methods]} waiting="Reading the register …" />
      {location.form === "new" ? (
        <Panel title="New method">
          <MethodForm before={null} onSaved={(saved) => show(saved.id)} onCancel={() => show(null)} />
        </Panel>
      ) : null}
      {method && location.form === "version" ? (
        <Panel
          title={`Version ${method.version + 1} of ${method.definition.name}`}
          lead="Sheets already opened keep the version they were measured under."
        >
          <MethodForm before={method} onSaved={(saved) => show(saved.id)} onCancel={() => show(method.id)} />
        </Panel>
      ) : null}
      {method && location.form === null ? (
        <MethodDetail method={method} onVersion={() => show(method.id, "version")} />
      ) : null}
    </RegisterFrame>
  );
}
