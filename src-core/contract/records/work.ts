import { z } from "zod";

/** How far a long piece of work is: what it does now, and how much of that is done. */
export const WorkProgress = z.strictObject({ part: z.string(), done: z.int(), parts: z.int() });
export type WorkProgress = z.infer<typeof WorkProgress>;
