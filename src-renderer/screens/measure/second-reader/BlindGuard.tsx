import type { ReactNode } from "react";
import { useCall } from "../../../bridge/use-call.ts";
import { SecondReadingScreen } from "./SecondReadingScreen.tsx";

/** While a person's own second reading of a sheet is open, that person sees it and not the sheet's rows. */
export function BlindGuard({ sheetId, children }: { sheetId: string; children: ReactNode }) {
  const readings = useCall("secondReadings.list", { sheetId });
  const status = useCall("bench.status", {});
  if (readings.error || status.error) return children;
  if (!readings.data || !status.data) return <p role="status">Fetching the sheet …</p>;
  const person = status.data.personInUse?.id;
  const own = readings.data.find((one) => one.state === "open" && one.reader === person);
  return own ? <SecondReadingScreen sheetId={sheetId} second={own.id} /> : children;
}
