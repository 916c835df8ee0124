import type { Person } from "#core/contract/records/person.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { CorrectionForm } from "../../../parts/form/CorrectionForm.tsx";
import { PersonForm } from "../../../parts/form/PersonForm.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { CompetenceTable } from "../../../parts/people/CompetenceTable.tsx";
import { ScatterTable } from "../../../parts/people/ScatterTable.tsx";
import { usePeopleHere } from "../../../parts/people/use-people-here.ts";
import type { LocationOf } from "../../../window/location.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { HistoryPanel } from "../item/HistoryPanel.tsx";
import { RegisterFrame, shownRecord } from "../RegisterFrame.tsx";
import { EyesPanel } from "./EyesPanel.tsx";
import { PinPanel } from "./PinPanel.tsx";
import { StandingPanel } from "./StandingPanel.tsx";

/** The people who measure here. */
export function PeopleRegister({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const people = useCall("people.list", {});
  const show = (recordId: string | null) =>
    navigation.go({ screen: "registers", register: "people", recordId, form: null });
  const here = usePeopleHere();
  const person = shownRecord(people.data, location);
  const isAway = ({ id }: Person): boolean => here !== undefined && !here.some((one) => one.id === id);
  // Who left stands at the end.
  const listed = (people.data ?? []).toSorted((a, b) => Number(isAway(a)) - Number(isAway(b)));
  return (
    <RegisterFrame
      location={location}
      shown={person?.id ?? null}
      items={listed.map((one) => ({
        id: one.id,
        name: one.name,
        detail: isAway(one) ? "set aside" : one.initials,
      }))}
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
            <CorrectionForm
              key={person.id}
              subject={{ kind: "person", id: person.id }}
              words={{ name: person.name, initials: person.initials }}
            />
          </Panel>
          <PinPanel key={person.id} person={person} />
          <StandingPanel key={`standing ${person.id}`} person={person} />
          <EyesPanel key={`eyes ${person.id}`} personId={person.id} />
          <PracticeOfPerson personId={person.id} />
          <Panel
            title="Scatter of readings"
            lead="Standard deviation of right less left, by where it was learnt; origins are never pooled."
          >
            <ScatterTable personId={person.id} />
          </Panel>
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

/** What a person has shown in practice; the attempts themselves stand on the screen Practice. */
function PracticeOfPerson({ personId }: { personId: string }) {
  const navigation = useNavigation();
  const competence = useCall("practice.competence", {});
  return (
    <Panel
      title="Practice"
      lead="What was shown at the drawn eyepiece, and until when it is taken as proven."
    >
      <CallNotice calls={[competence]} waiting="Reading the results of practice …" />
      {competence.data ? (
        <CompetenceTable
          ofOne
          competence={competence.data.filter((one) => one.personId === personId)}
          onOpen={(attemptId) => navigation.go({ screen: "practice", part: "exercises", attemptId })}
        />
      ) : null}
    </Panel>
  );
}
