import { NEW_BENCH_LABORATORY } from "#core/contract/records/laboratory.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { laboratorySettings, settingKeys } from "../../store/repositories/laboratory-repository.ts";
import { listPeople, personInUse } from "../../store/repositories/people-repository.ts";
import { pinDates } from "../../store/repositories/pin-repository.ts";
import { listConfirmations, listPinResets } from "../../store/repositories/pin-reset-repository.ts";
import { listTolerances } from "../../store/repositories/trend-repository.ts";
import { sealOfProof } from "../people/pin-proof.ts";
import { pinForTrail } from "../people/pins.ts";
import { compareWithTrail, factsFromTrail, storedFacts, type TrailFact } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

const KNOWN_SETTINGS: ReadonlySet<string> = new Set(["laboratory", "person_in_use", "practice"]);

/** The settings of the laboratory and who is at the bench, as the last line says of each. */
export function verifySettings(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const changed = acts.of("laboratory.change").at(-1);
  const where = changed ? `, as told by trail line ${changed.sequence}` : ", which nobody has changed";
  differences.compare(
    `settings of the laboratory${where}`,
    laboratorySettings(db),
    changed?.detail.to ?? NEW_BENCH_LABORATORY,
  );
  const chosen = acts.of("people.choose").at(-1);
  differences.compare("person at the bench", personInUse(db)?.id ?? null, chosen?.subjectId ?? null);
  for (const key of settingKeys(db)) {
    if (!KNOWN_SETTINGS.has(key)) differences.add(`setting ${key}`, "a setting", "none of that name");
  }
}

/** What a factor of this bench may change by, decision by decision. */
export function verifyTolerances(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  compareWithTrail(
    differences,
    storedFacts(
      listTolerances(db),
      ({ id }) => id,
      ({ id: _, ...fields }) => ({ where: `tolerance decided ${fields.at.slice(0, 10)}`, fields }),
    ),
    factsFromTrail(
      acts.of("trends.setTolerance"),
      (line) => line.subjectId,
      ({ detail, reason, at, by }) => ({
        where: `tolerance decided ${at.slice(0, 10)}`,
        fields: { percent: detail.to, rule: detail.rule ?? null, reason, at, by },
      }),
    ),
  );
}

/** Whose PIN is kept since when, by its seal: one that was set behind the program's back proves nobody. */
export function verifyPins(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
  const where = (id: string): string => `PIN of ${names.get(id) ?? id}`;
  const fromTrail = new Map<string, TrailFact>();
  for (const { act, subjectId, sequence, detail } of acts.of("people.setPin", "people.clearPin")) {
    if (act === "people.clearPin") fromTrail.delete(subjectId);
    else {
      const { setAt, seal } = detail;
      fromTrail.set(subjectId, { where: where(subjectId), sequence, fields: { setAt, seal } });
    }
  }
  const stored = storedFacts(
    [...pinDates(db).keys()],
    (id) => id,
    (id) => ({ where: where(id), fields: { ...pinForTrail(db, id) } }),
  );
  compareWithTrail(differences, stored, fromTrail);
}

/** Who was confirmed by whom. A line of before says nothing of it: whoever had a PIN then was taken as confirmed. */
export function verifyConfirmations(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
  const where = (id: string): string => `confirmation of ${names.get(id) ?? id}`;
  const fromTrail = new Map<string, TrailFact>();
  const lines = acts.of("people.setPin", "people.clearPin", "people.confirm");
  for (const { act, subjectId, sequence, at, by, detail } of lines) {
    const confirm = (since: string): unknown =>
      fromTrail.set(subjectId, { where: where(subjectId), sequence, fields: { at: since, by } });
    if (act === "people.confirm") confirm(at);
    else if (act === "people.setPin") {
      if (detail.isFirst !== false) confirm(detail.setAt);
    } else if (detail.formerSeal === undefined) fromTrail.delete(subjectId);
  }
  const stored = storedFacts(
    [...listConfirmations(db)],
    ([id]) => id,
    ([id, fields]) => ({ where: where(id), fields }),
  );
  compareWithTrail(differences, stored, fromTrail);
}

/** Every reset of a PIN, who vouched, and whether its owner has confirmed it. */
export function verifyPinResets(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
  const where = (id: string, at: string): string =>
    `reset of the PIN of ${names.get(id) ?? id}, ${at.slice(0, 10)}`;
  const fromTrail = new Map<string, TrailFact>();
  for (const { act, subjectId, sequence, at, by, reason, detail } of acts.of(
    "people.clearPin",
    "people.confirmReset",
  )) {
    if (act === "people.clearPin" && detail.formerSeal !== undefined) {
      const fields = { voucher: by, reason, seal: detail.formerSeal, confirmedAt: null, confirmedBy: null };
      fromTrail.set(`${subjectId} ${at}`, { where: where(subjectId, at), sequence, fields });
    }
    if (act !== "people.confirmReset") continue;
    for (const [key, fact] of fromTrail) {
      if (!key.startsWith(`${subjectId} `) || fact.fields.confirmedAt !== null) continue;
      fromTrail.set(key, {
        ...fact,
        sequence,
        fields: { ...fact.fields, confirmedAt: at, confirmedBy: detail.by },
      });
    }
  }
  const stored = storedFacts(
    listPinResets(db),
    ({ personId, at }) => `${personId} ${at}`,
    ({ personId, at, voucher, reason, scheme, salt, hash, confirmedAt, confirmedBy }) => ({
      where: where(personId, at),
      fields: { voucher, reason, seal: sealOfProof({ scheme, salt, hash }), confirmedAt, confirmedBy },
    }),
  );
  compareWithTrail(differences, stored, fromTrail);
}
