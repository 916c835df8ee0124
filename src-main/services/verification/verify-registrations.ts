import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { Act } from "#core/contract/trail-events/trail-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { categoryListIds, storedCategoryLists } from "../../store/repositories/category-list-repository.ts";
import { countMethodIds, storedCountMethods } from "../../store/repositories/count-method-repository.ts";
import { listMethodsAsStored } from "../../store/repositories/method-repository.ts";
import type { MethodVersion } from "../../store/repositories/method-versions.ts";
import { listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

interface Registered extends StoredFact {
  readonly id: string;
}

/** One kind of register entry: the act that tells of it, and what is stored. */
interface Kind {
  readonly subject: string;
  readonly act: Act;
  readonly stored: readonly Registered[];
}

const versionsOf = (
  versions: readonly (Omit<MethodVersion, "definition"> | null)[],
  what: string,
): Registered[] =>
  versions
    .filter((version) => version !== null)
    .map(({ id, ...fields }) => ({ id, where: `${what} ${id}`, fields: { ...fields } }));

function kindsOf(db: ReadableDb): Kind[] {
  const micrometers = listMicrometers(db);
  return [
    {
      subject: "person",
      act: "people.register",
      stored: listPeople(db).map(({ id, ...fields }) => ({ id, where: `person ${fields.name}`, fields })),
    },
    {
      subject: "microscope",
      act: "microscopes.register",
      stored: listMicroscopes(db).map(({ id, objectives: _, eyepieces: __, ...fields }) => {
        return { id, where: `microscope ${fields.name}`, fields };
      }),
    },
    {
      subject: "stage_micrometer",
      act: "micrometers.register",
      stored: micrometers.map(({ id, certificates: _, ...fields }) => {
        return { id, where: `stage micrometer ${fields.name}`, fields };
      }),
    },
    {
      subject: "certificate",
      act: "certificates.register",
      stored: micrometers.flatMap(({ certificates, name }) =>
        certificates.map(({ id, ...fields }) => {
          return { id, where: `certificate ${fields.number} of ${name}`, fields };
        }),
      ),
    },
    {
      subject: "method",
      act: "methods.define",
      stored: versionsOf(listMethodsAsStored(db), "method"),
    },
    {
      subject: "count_method",
      act: "countMethods.define",
      stored: versionsOf(
        countMethodIds(db).map((id) => storedCountMethods.find(db, id)),
        "count method",
      ),
    },
    {
      subject: "category_list",
      act: "categoryLists.define",
      stored: versionsOf(
        categoryListIds(db).map((id) => storedCategoryLists.find(db, id)),
        "category list",
      ),
    },
  ];
}

/** By it the entry is found; what stands in records of its own; and what a file says of its reading-in. */
const NO_FIELDS: ReadonlySet<string> = new Set([
  "id",
  "objectives",
  "eyepieces",
  "certificates",
  "trains",
  "readIn",
]);

/** Every field an entry was registered with, and when and by whom; a file tells that with the record. */
function toldOf(
  { at, by, detail }: ToldEvent,
  corrections: readonly ToldEvent[],
): Readonly<Record<string, unknown>> {
  const defined = "definition" in detail ? { definedAt: at, definedBy: by } : { registeredAt: at };
  const fields = Object.entries(correctedBy({ ...defined, ...detail }, corrections));
  return Object.fromEntries(fields.filter(([name]) => !NO_FIELDS.has(name)));
}

/**
 * Every register entry that was told is there and none besides, with every field that it was registered with or that was
 * corrected since, and none that was not told.
 */
export function verifyRegistrations(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const corrections = acts.corrections();
  for (const { subject, act, stored } of kindsOf(db)) {
    const fieldsOf = new Map(stored.map(({ id, fields }) => [id, fields]));
    const untold = (id: string) =>
      Object.fromEntries(Object.keys(fieldsOf.get(id) ?? {}).map((name) => [name, null]));
    compareWithTrail(
      differences,
      storedFacts(
        stored,
        ({ id }) => id,
        (fact) => fact,
      ),
      factsFromTrail(
        acts.made(subject, act),
        (event) => event.subjectId,
        (event) => ({
          where: `${subject.replaceAll("_", " ")} ${event.subjectId}`,
          fields: { ...untold(event.subjectId), ...toldOf(event, corrections.get(event.subjectId) ?? []) },
        }),
      ),
    );
  }
}
