import type { ReadableDb } from "../../store/connection.ts";
import { categoryListIds, storedCategoryLists } from "../../store/repositories/category-list-repository.ts";
import { countMethodIds, storedCountMethods } from "../../store/repositories/count-method-repository.ts";
import { listMethodsAsStored } from "../../store/repositories/method-repository.ts";
import { listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailEntry, TrailIndex } from "./trail-index.ts";

interface Registered extends StoredFact {
  readonly id: string;
}

/** One kind of register entry: what of it is stored, and what its line tells of it beside its own fields. */
interface Kind {
  readonly subject: string;
  readonly act: string;
  readonly stored: readonly Registered[];
  fromTrail(line: TrailEntry): StoredFact["fields"];
}

const NOTHING_MORE = (): StoredFact["fields"] => ({});

/** From a file the dates of the bench it was written on are told with the record. */
function defined({ act, at, by, detail }: TrailEntry): StoredFact["fields"] {
  if (act !== "documents.readIn") return { definedAt: at, definedBy: by };
  return { definedAt: detail.definedAt, definedBy: detail.definedBy };
}

function kindsOf(db: ReadableDb): Kind[] {
  const micrometers = listMicrometers(db);
  return [
    {
      subject: "person",
      act: "people.register",
      stored: listPeople(db).map(({ id, name, registeredAt }) => ({
        id,
        where: `person ${name}`,
        fields: { registeredAt },
      })),
      fromTrail: ({ at, detail }) => ({ registeredAt: detail.registeredAt ?? at }),
    },
    {
      subject: "microscope",
      act: "microscopes.register",
      stored: listMicroscopes(db).map(({ id, name }) => ({ id, where: `microscope ${name}`, fields: {} })),
      fromTrail: NOTHING_MORE,
    },
    {
      subject: "stage_micrometer",
      act: "micrometers.register",
      stored: micrometers.map(({ id, name }) => ({ id, where: `stage micrometer ${name}`, fields: {} })),
      fromTrail: NOTHING_MORE,
    },
    {
      subject: "certificate",
      act: "certificates.register",
      stored: micrometers
        .flatMap((one) => one.certificates)
        .map(({ id, number }) => ({ id, where: `certificate ${number}`, fields: {} })),
      fromTrail: NOTHING_MORE,
    },
    {
      subject: "method",
      act: "methods.define",
      stored: listMethodsAsStored(db).map(({ id, definedAt, definedBy }) => ({
        id,
        where: `method ${id}`,
        fields: { definedAt, definedBy },
      })),
      fromTrail: defined,
    },
    {
      subject: "count_method",
      act: "countMethods.define",
      stored: countMethodIds(db).flatMap((id) => {
        const { definedAt, definedBy } = storedCountMethods.find(db, id) ?? {};
        return [{ id, where: `count method ${id}`, fields: { definedAt, definedBy } }];
      }),
      fromTrail: defined,
    },
    {
      subject: "category_list",
      act: "categoryLists.define",
      stored: categoryListIds(db).flatMap((id) => {
        const { definedAt, definedBy } = storedCategoryLists.find(db, id) ?? {};
        return [{ id, where: `category list ${id}`, fields: { definedAt, definedBy } }];
      }),
      fromTrail: defined,
    },
  ];
}

/** Every register entry that was told is there and none besides, registered when and by whom the trail says. */
export function verifyRegistrations(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  for (const { subject, act, stored, fromTrail } of kindsOf(db)) {
    compareWithTrail(
      differences,
      storedFacts(
        stored,
        ({ id }) => id,
        (fact) => fact,
      ),
      factsFromTrail(
        acts.made(subject, act),
        (line) => line.subjectId,
        (line) => ({ where: `${subject.replaceAll("_", " ")} ${line.subjectId}`, fields: fromTrail(line) }),
      ),
    );
  }
}
