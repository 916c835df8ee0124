import type { Competence } from "#core/contract/records/competence.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../CallNotice.tsx";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { Panel } from "../layout/Panel.tsx";
import { StateMark } from "../StateMark.tsx";
import { usePeopleHere } from "./use-people-here.ts";

interface PersonForMethod {
  readonly personId: string;
  readonly name: string;
  /** The exercises that they have not proven. */
  readonly lacks: readonly ExerciseName[];
  /** The first last day of their proofs; null while one lacks. */
  readonly until: string | null;
}

const titles = (exercises: readonly ExerciseName[]): string =>
  exercises.map((one) => exerciseNamed(one).title).join(", ");

const COLUMNS: readonly Column<PersonForMethod>[] = [
  { key: "name", title: "Person", names: true, cell: ({ name }) => name },
  {
    key: "state",
    title: "Practice",
    cell: ({ lacks }) => (
      <>
        <StateMark state={lacks.length === 0 ? "good" : "none"} />{" "}
        {lacks.length === 0 ? "Proven" : `Lacks ${titles(lacks)}`}
      </>
    ),
  },
  { key: "until", title: "Until", unbroken: true, cell: ({ until }) => until ?? "" },
];

function standingOf(
  { id, name }: { readonly id: string; readonly name: string },
  exercises: readonly ExerciseName[],
  competence: readonly Competence[],
): PersonForMethod {
  const proven = competence.filter((one) => one.personId === id && one.state === "proven");
  const lacks = exercises.filter((exercise) => !proven.some((one) => one.exercise === exercise));
  const days = proven.filter((one) => exercises.includes(one.exercise)).map(({ until }) => until ?? "");
  return { personId: id, name, lacks, until: lacks.length === 0 ? (days.toSorted()[0] ?? null) : null };
}

/** Who is proven for a method by what it asks for, and until when; nothing where it asks for nothing. */
export function ProvenForMethod({ exercises = [] }: { exercises?: readonly ExerciseName[] | undefined }) {
  const people = usePeopleHere();
  const competence = useCall("practice.competence", {});
  if (exercises.length === 0) return null;
  return (
    <Panel title="Practice: who is proven for it" lead={`It asks for ${titles(exercises)}.`}>
      <CallNotice calls={[competence]} waiting="Reading who has shown what …" />
      {people && competence.data ? (
        <DataTable
          caption="Who is proven for the method"
          captionHidden
          columns={COLUMNS}
          rows={people.map((person) => standingOf(person, exercises, competence.data ?? []))}
          rowKey={({ personId }) => personId}
          empty="Nobody is registered yet."
        />
      ) : null}
    </Panel>
  );
}
