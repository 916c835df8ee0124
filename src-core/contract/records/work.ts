import { z } from "zod";

/** How far a long piece of work is: what it does now, and how much of that is done. */
export const WorkProgress = z.strictObject({ part: z.string(), done: z.int(), parts: z.int() });
export type WorkProgress = z.infer<typeof WorkProgress>;

/** The check of every page of the bench's file is followed and stopped under this id, whoever began it. */
export const FILE_CHECK = "file-check";
