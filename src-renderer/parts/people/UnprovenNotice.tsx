import { missingProofWords, unprovenWords } from "#core/practice/unproven-work.ts";
import { useCall } from "../../bridge/use-call.ts";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { Caution } from "../Caution.tsx";

/** Who worked on a sheet or count without a proof of practice that is asked for; nothing where nobody did. */
export function UnprovenNotice({ work, id }: { work: "sheet" | "count"; id: string }) {
  const unproven = useCall("practice.unproven", { work, id });
  const personName = usePersonName();
  return (unproven.data ?? []).map((one) => (
    <Caution key={`${one.personId} ${one.from}`}>{unprovenWords(one, personName(one.personId))}</Caution>
  ));
}

/** What the person at the bench has not proven of what is asked for such work. It is not read again with each entry. */
export function MissingProofNotice({ work, id }: { work: "sheet" | "count"; id: string }) {
  const missing = useCall("practice.missing", { work, id }).data ?? [];
  const person = useCall("bench.status", {}).data?.personInUse;
  if (!person || missing.length === 0) return null;
  return <Caution>{missingProofWords(missing, person.name)}</Caution>;
}
