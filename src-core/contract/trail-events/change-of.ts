import { z } from "zod";

/** A value before an act and after it. */
export const changeOf = <T extends z.ZodType>(value: T) => z.strictObject({ from: value, to: value });
