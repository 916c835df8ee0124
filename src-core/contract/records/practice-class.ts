import { z } from "zod";
import { Id, Instant, Name, Note, TypedNumber } from "./primitives.ts";

export const MOST_IN_CLASS = 60;
const Many = (most: number) =>
  z.int("must be a whole number").min(1, "must be at least 1").max(most, `must be at most ${most}`);

/** People who practise together. It needs no microscope, and nothing of it is put in force. */
export const NewClass = z.strictObject({
  name: Name,
  /** One seed for all; null: everybody gets pictures of their own. */
  seed: z.int().min(1).max(999_999).nullable(),
  /** Real material that all of them read at a real microscope, in words; empty: none. */
  slide: Note,
  /** How many intervals of it, and how often each is read. */
  intervals: Many(10),
  repeats: Many(10),
});
export type NewClass = z.infer<typeof NewClass>;

export const PracticeClass = NewClass.extend({
  id: Id,
  /** In the order of the list. */
  memberIds: z.array(Id).min(1).max(MOST_IN_CLASS),
  madeAt: Instant,
  madeBy: Id,
});
export type PracticeClass = z.infer<typeof PracticeClass>;

/** One interval of the real material read once, both ends as typed, div. */
export const SlideReading = z.strictObject({
  personId: Id,
  interval: z.int().min(1),
  repeat: z.int().min(1),
  left: TypedNumber,
  right: TypedNumber,
  at: Instant,
});
export type SlideReading = z.infer<typeof SlideReading>;
