import { z } from "zod";
import { Sha256 } from "../records/attachment.ts";
import { LaboratorySettings } from "../records/laboratory.ts";
import { Person } from "../records/person.ts";
import { PersonStanding } from "../records/person-standing.ts";
import { Id, Instant } from "../records/primitives.ts";
import { changeOf } from "./change-of.ts";

/** People, their PINs, and the settings of the laboratory. */
export const PEOPLE_DETAILS = {
  "people.register": { person: Person.omit({ id: true, registeredAt: true }) },
  /** By name; null before anyone was chosen. */
  "people.choose": { person: z.strictObject({ from: z.string().nullable(), to: z.string() }) },
  "people.setPin": {
    person: z.strictObject({
      hasPin: z.literal(true),
      setAt: Instant,
      /** A hash of what is kept of the PIN: by it one set behind the program's back is found. */
      seal: Sha256,
      /** The first PIN of the bench, whose owner needs no confirmation by another. */
      isFirst: z.boolean(),
    }),
  },
  "people.setStanding": { person: PersonStanding.pick({ standing: true }) },
  "people.confirm": { person: z.strictObject({}) },
  /** `formerSeal`: the seal of the PIN that was taken away; absent where there was none. */
  "people.clearPin": {
    person: z.strictObject({ hasPin: z.literal(false), formerSeal: Sha256.optional() }),
  },
  "people.confirmReset": { person: z.strictObject({ by: Id }) },
  "laboratory.change": { laboratory: changeOf(LaboratorySettings) },
} as const;
