import { useCall } from "../../bridge/use-call.ts";

/** From the key of a dimension to its name in a method; the key itself while the methods are being read. */
export function useDimensionName(methodId: string | undefined): (key: string) => string {
  const { data } = useCall("methods.list", {});
  const dimensions = data?.find((one) => one.id === methodId)?.definition.dimensions;
  return (key) => dimensions?.find((one) => one.key === key)?.name ?? key;
}
