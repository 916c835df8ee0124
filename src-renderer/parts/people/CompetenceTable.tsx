import type { Competence, CompetenceState } from "#core/contract/records/competence.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { Button } from "../Button.tsx";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { type MarkState, StateMark } from "../StateMark.tsx";
import styles from "./CompetenceTable.module.css";

const MARKS: Readonly<Record<CompetenceState, MarkState>> = {
  proven: "good",
  "awaits an examiner": "warn",
  withdrawn: "bad",
  lapsed: "bad",
  "not proven": "none",
};

const WORDS: Readonly<Record<CompetenceState, string>> = {
  proven: "Proven",
  "awaits an examiner": "Awaits an examiner",
  withdrawn: "Withdrawn",
  lapsed: "Lapsed",
  "not proven": "Not proven",
};

const UNTIL_WORDS: Readonly<Record<CompetenceState, (until: string, one: Competence) => string>> = {
  proven: (until) => until,
  "awaits an examiner": (until) => `${until}, once signed`,
  withdrawn: (_, { certificate }) => `was until ${certificate?.withdrawn?.at.slice(0, 10)}`,
  lapsed: (until) => `was ${until}`,
  "not proven": () => "",
};

/** Who has shown what in practice, until when, and who signed it. */
export function CompetenceTable({
  competence,
  onOpen,
  ofOne = false,
}: {
  competence: readonly Competence[];
  onOpen: (attemptId: string) => void;
  /** Of one person, who is not named in every row. */
  ofOne?: boolean;
}) {
  const personName = usePersonName();
  const person: Column<Competence> = {
    key: "person",
    title: "Person",
    names: true,
    cell: (one) => personName(one.personId),
  };
  const columns: readonly Column<Competence>[] = [
    ...(ofOne ? [] : [person]),
    { key: "exercise", title: "Exercise", names: ofOne, cell: (one) => exerciseNamed(one.exercise).title },
    {
      key: "state",
      title: "Practice",
      cell: ({ state }) => (
        <span className={styles.state}>
          <StateMark state={MARKS[state]} />
          {WORDS[state]}
        </span>
      ),
    },
    {
      key: "until",
      title: "Until",
      unbroken: true,
      cell: (one) => (one.until === null ? "" : UNTIL_WORDS[one.state](one.until, one)),
    },
    {
      key: "certificate",
      title: "Certificate",
      cell: ({ certificate }) =>
        certificate
          ? `no. ${certificate.number}, ${personName(certificate.examinerId)}${certificate.withdrawn ? `; withdrawn by ${personName(certificate.withdrawn.examinerId)}` : ""}`
          : "–",
    },
    {
      key: "open",
      title: "Actions",
      cell: ({ attemptId, exercise, personId }) =>
        attemptId === null ? null : (
          <Button
            look="quiet"
            aria-label={`Result of ${personName(personId)}: ${exerciseNamed(exercise).title}`}
            onClick={() => onOpen(attemptId)}
          >
            Result
          </Button>
        ),
    },
  ];
  return (
    <DataTable
      caption="What has been shown in practice"
      captionHidden
      columns={columns}
      rows={competence}
      rowKey={({ personId, exercise }) => `${personId} ${exercise}`}
      empty="Nobody is registered yet."
    />
  );
}
