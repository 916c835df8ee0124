import type { ReasonUse } from "#core/contract/records/laboratory.ts";
import { useCall } from "../../bridge/use-call.ts";
import { USUAL_REASONS } from "./usual-reasons.ts";

/** The reasons that are chosen by number: the laboratory's own list, else the usual ones; none until it is read. */
export function useReasons(use: ReasonUse): readonly string[] {
  const settings = useCall("laboratory.settings", {}).data;
  if (!settings) return [];
  const own = settings.reasons[use];
  return own.length > 0 ? own : USUAL_REASONS[use];
}
