import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { useCall } from "../../bridge/use-call.ts";
import { printedInstant } from "../bench-words/instant.ts";
import { usePaperFoot } from "./use-paper-foot.ts";

/** The last lines of a printed page: from which bench it came, by whom, when, by what program, and how far its trail went. */
export function PaperFoot({ asOf }: { asOf?: string }) {
  const status = useCall("bench.status", {}).data;
  const head = useCall("trail.head", {}).data;
  usePaperFoot("--paper-foot", head ? `${TRAIL_HEAD_LABEL} ${head}` : "");
  if (!status) return null;
  const { program, personInUse, databasePath, demo } = status;
  return (
    <p data-paper-only>
      {asOf === undefined ? "Printed" : `As of ${printedInstant(asOf)}, printed`} by{" "}
      {personInUse?.name ?? "nobody named"} from {databasePath}
      {demo ? " (invented demo data)" : ""} with {program.name} {program.version}.
      {head ? ` ${TRAIL_HEAD_LABEL} ${head}` : ""}
    </p>
  );
}
