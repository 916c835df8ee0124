import { z } from "zod";
import { PracticeCertificate } from "../records/competence.ts";
import { PracticeAnswer, PracticeAttempt, PracticeCriteria, PracticeResult } from "../records/practice.ts";
import { PracticeClass, SlideReading } from "../records/practice-class.ts";
import { changeOf } from "./change-of.ts";

/** Exercises of practice, their certificates and classes. */
export const PRACTICE_DETAILS = {
  "practice.begin": {
    practice_attempt: PracticeAttempt.pick({ exercise: true, version: true, seed: true, criteria: true }),
  },
  /** The result comes with the last answer. */
  "practice.answer": {
    practice_attempt: PracticeAnswer.omit({ at: true }).extend({ result: PracticeResult.optional() }),
  },
  "practice.giveUp": { practice_attempt: z.strictObject({}) },
  "practice.setCriteria": { practice: changeOf(PracticeCriteria) },
  "practice.sign": {
    practice_certificate: PracticeCertificate.omit({ id: true, at: true, examinerId: true, withdrawn: true }),
  },
  "practice.withdraw": {
    practice_certificate: PracticeCertificate.pick({ number: true, attemptId: true, pinReset: true }),
  },
  "practice.makeClass": { practice_class: PracticeClass.omit({ id: true, madeAt: true, madeBy: true }) },
  "practice.readSlide": { practice_class: SlideReading.omit({ personId: true, at: true }) },
} as const;
