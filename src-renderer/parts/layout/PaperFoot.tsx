import { useCall } from "../../bridge/use-call.ts";
import { printedInstant } from "../bench-words/instant.ts";

/** The last line of a printed page: from which bench it came, by whom, when, and by what program. */
export function PaperFoot({ asOf }: { asOf: string }) {
  const status = useCall("bench.status", {}).data;
  if (!status) return null;
  const { program, personInUse, databasePath, demo } = status;
  return (
    <p data-paper-only>
      As of {printedInstant(asOf)}, printed by {personInUse?.name ?? "nobody named"} from {databasePath}
      {demo ? " (invented demo data)" : ""} with {program.name} {program.version}.
    </p>
  );
}
