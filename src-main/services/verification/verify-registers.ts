import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { listMethodsAsStored } from "../../store/repositories/method-repository.ts";
import { listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

/** A register entry as it is stored, where it stands, and the act that told the trail of the same fields. */
interface Entry {
  readonly where: string;
  readonly id: string;
  readonly act: string;
  readonly stored: Readonly<Record<string, unknown>>;
}

function entriesOf(db: ReadableDb): Entry[] {
  const people = listPeople(db).map(({ id, name, initials, interpupillaryMm }) => ({
    where: `person ${name}`,
    id,
    act: "people.register",
    stored: { name, initials, interpupillaryMm },
  }));
  const micrometers = listMicrometers(db).flatMap(({ certificates, ...micrometer }) => [
    {
      where: `stage micrometer ${micrometer.name}`,
      id: micrometer.id,
      act: "micrometers.register",
      // What is not recorded is compared too: somebody may have emptied it.
      stored: { ...micrometer, cover: micrometer.cover ?? null, keptAt: micrometer.keptAt ?? null },
    },
    ...certificates.map((certificate) => ({
      where: `certificate ${certificate.number} of ${micrometer.name}`,
      id: certificate.id,
      act: "certificates.register",
      stored: certificate,
    })),
  ]);
  const microscopes = listMicroscopes(db).map(({ objectives: _, eyepieces: __, ...microscope }) => ({
    where: `microscope ${microscope.name}`,
    id: microscope.id,
    act: "microscopes.register",
    stored: microscope,
  }));
  const methods = listMethodsAsStored(db).map(({ id, familyId, version, definition }) => ({
    where: `method ${id}, version ${version}`,
    id,
    act: "methods.define",
    stored: { familyId, version, definition },
  }));
  return [...people, ...micrometers, ...microscopes, ...methods];
}

/** Objectives and eyepieces as registered with their microscope or added to it. */
function partsOfMicroscopeFromTrail(
  db: ReadableDb,
  microscopeId: string,
): Map<string, Record<string, unknown>> {
  const parts = new Map<string, Record<string, unknown>>();
  for (const line of trailOf(db, microscopeId)) {
    const { objectives = [], eyepieces = [], objective, eyepiece } = JSON.parse(line.detail);
    for (const part of [...objectives, ...eyepieces, objective, eyepiece]) if (part) parts.set(part.id, part);
  }
  return parts;
}

function verifyParts(db: ReadableDb, differences: Differences): void {
  for (const { id, name, objectives, eyepieces } of listMicroscopes(db)) {
    const fromTrail = partsOfMicroscopeFromTrail(db, id);
    for (const part of [...objectives, ...eyepieces]) {
      const what = "position" in part ? `objective in position ${part.position}` : `eyepiece ${part.name}`;
      const inTrail = fromTrail.get(part.id);
      differences.compare(
        `microscope ${name}, ${what}`,
        part,
        inTrail ? correctedBy(inTrail, trailOf(db, part.id)) : null,
      );
    }
  }
}

/** Compares every register entry with what the trail was told when it was registered. */
export async function verifyRegisters(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  let entries: Entry[] = [];
  checkRecord("registers", differences, () => {
    entries = entriesOf(db);
    verifyParts(db, differences);
  });
  for (const { where, id, act, stored } of entries) {
    checkRecord(where, differences, () => {
      const lines = trailOf(db, id);
      const line = lines.find((one) => one.act === act || one.act === "documents.readIn");
      if (!line) {
        differences.add(`${where}, trail`, "no line", "a line that it was registered");
        return;
      }
      const fromTrail = correctedBy(JSON.parse(line.detail), lines);
      for (const [key, value] of Object.entries(stored)) {
        differences.compare(`${where}, ${key}`, value, fromTrail[key] ?? null);
      }
    });
    await yieldToEvents();
  }
}
