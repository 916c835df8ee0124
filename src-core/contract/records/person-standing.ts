import { z } from "zod";
import { Id, Instant, Reason } from "./primitives.ts";

/** Whoever is set aside works here no more: the name stays on every record, and nothing new is done under it. */
export const STANDINGS = ["working here", "set aside"] as const;

/** One change of a person's standing. Somebody without any works here since the registration. */
export const PersonStanding = z.strictObject({
  personId: Id,
  standing: z.enum(STANDINGS),
  reason: Reason,
  at: Instant,
  by: Id,
});
export type PersonStanding = z.infer<typeof PersonStanding>;
