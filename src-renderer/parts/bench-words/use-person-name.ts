import { useCall } from "../../bridge/use-call.ts";

/** From a person's id to the name; the id itself while the register is being read. */
export function usePersonName(): (personId: string | null) => string {
  const { data } = useCall("people.list", {});
  return (personId) =>
    personId === null ? "nobody named" : (data?.find((one) => one.id === personId)?.name ?? personId);
}
