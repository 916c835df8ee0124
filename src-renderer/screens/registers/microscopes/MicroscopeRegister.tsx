import { objectivesOnTurret } from "#core/optics/turret.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import type { LocationOf } from "../../../window/location.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { useFirstHour } from "../../bench/use-first-hour.ts";
import { RegisterFrame, shownRecord } from "../RegisterFrame.tsx";
import { BenchCard } from "./BenchCard.tsx";
import { EyepieceForm } from "./EyepieceForm.tsx";
import { MicroscopeDetail } from "./MicroscopeDetail.tsx";
import { MicroscopeForm } from "./MicroscopeForm.tsx";
import { ObjectiveForm } from "./ObjectiveForm.tsx";

/** Microscopes with the objectives on their turrets and the eyepieces with their reticles. */
export function MicroscopeRegister({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const microscopes = useCall("microscopes.list", {});
  const show = (recordId: string | null, form: LocationOf<"registers">["form"] = null) =>
    navigation.go({ screen: "registers", register: "microscopes", recordId, form });
  const { leadOn } = useFirstHour();
  const microscope = shownRecord(microscopes.data, location);
  return (
    <RegisterFrame
      location={location}
      shown={microscope?.id ?? null}
      items={(microscopes.data ?? []).map((one) => ({
        id: one.id,
        name: one.name,
        detail: countedNoun(objectivesOnTurret(one.objectives).length, "objective"),
      }))}
      addWords="Register a microscope"
      empty="No microscope is registered yet."
    >
      <CallNotice calls={[microscopes]} waiting="Reading the register …" />
      {location.form === "new" ? (
        <Panel title="New microscope">
          <MicroscopeForm
            onSaved={(saved) => leadOn("microscope", () => show(saved.id))}
            onCancel={() => show(null)}
          />
        </Panel>
      ) : null}
      {microscope && location.form === "objective" ? (
        <Panel title={`New objective on ${microscope.name}`}>
          <ObjectiveForm
            microscope={microscope}
            onSaved={() => show(microscope.id)}
            onCancel={() => show(microscope.id)}
          />
        </Panel>
      ) : null}
      {microscope && location.form === "eyepiece" ? (
        <Panel title={`New eyepiece for ${microscope.name}`}>
          <EyepieceForm
            microscope={microscope}
            onSaved={() => show(microscope.id)}
            onCancel={() => show(microscope.id)}
          />
        </Panel>
      ) : null}
      {microscope && location.form === "card" ? (
        <BenchCard microscope={microscope} onBack={() => show(microscope.id)} />
      ) : null}
      {microscope && location.form === null ? (
        <MicroscopeDetail microscope={microscope} onForm={(form) => show(microscope.id, form)} />
      ) : null}
    </RegisterFrame>
  );
}
