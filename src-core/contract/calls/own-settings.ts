import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { OwnSettings, OwnSettingsChange } from "../records/own-settings.ts";
import { Id } from "../records/primitives.ts";

export const ownSettingsCalls = {
  /** Of the person at the bench; no settings: nothing was chosen yet. Null: nobody is at the bench. */
  "ownSettings.read": call({
    kind: "read",
    reads: ["own settings", "present person"],
    input: Nothing,
    output: z.strictObject({ personId: Id, settings: OwnSettings.nullable() }).nullable(),
    errors: [],
  }),
  /**
   * Changes what is named and keeps the rest. No line of the trail: settings say how a person reads, and no record, number
   * or result depends on them.
   */
  "ownSettings.change": call({
    kind: "write",
    changes: ["own settings"],
    input: z.strictObject({ personId: Id, change: OwnSettingsChange }),
    output: OwnSettings,
    errors: ["person.unknown"],
  }),
} as const;
