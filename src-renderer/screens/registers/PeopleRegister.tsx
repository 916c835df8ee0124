import type { LocationOf } from "../../app/location.ts";
import { useNavigation } from "../../app/navigation-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Facts } from "../../parts/Facts.tsx";
import { shownInstant } from "../../parts/instant.ts";
import { Panel } from "../../parts/Panel.tsx";
import { PersonForm } from "../../parts/PersonForm.tsx";
import { HistoryPanel } from "./HistoryPanel.tsx";
import { PinPanel } from "./PinPanel.tsx";
import { RegisterFrame, shownRecord } from "./RegisterFrame.tsx";

/** The people who measure here. */
export function PeopleRegister({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const people = useCall("people.list", {});
  const show = (recordId: string | null) =>
    navigation.go({ screen: "registers", register: "people", recordId, form: null });
  const person = shownRecord(people.data, location);
  return (
    <RegisterFrame
      location={location}
      shown={person?.id ?? null}
      items={(people.data ?? []).map((one) => ({ id: one.id, name: one.name, detail: one.initials }))}
      addWords="Register a person"
      empty="Nobody is registered yet."
    >
      <CallNotice calls={[people]} waiting="Reading the register …" />
      {location.form === "new" ? (
        <Panel title="New person">
          <PersonForm submit="Register" onSaved={(saved) => show(saved.id)} onCancel={() => show(null)} />
        </Panel>
      ) : null}
      {person && location.form === null ? (
        <>
          <Panel title={person.name}>
            <Facts
              facts={[
                ["Initials", person.initials],
                [
                  "Interpupillary distance",
                  person.interpupillaryMm === null ? "" : `${person.interpupillaryMm} mm`,
                ],
                ["Registered", shownInstant(person.registeredAt)],
              ]}
            />
          </Panel>
          <PinPanel key={person.id} person={person} />
          <HistoryPanel
            key={`history ${person.id}`}
            item={{ kind: "person", id: person.id }}
            name={person.name}
          />
        </>
      ) : null}
    </RegisterFrame>
  );
}
