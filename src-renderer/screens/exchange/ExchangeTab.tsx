import { CheckPanel } from "./CheckPanel.tsx";
import { ExportPanel } from "./ExportPanel.tsx";

/** What leaves the bench, and what of it comes back. */
export function ExchangeTab() {
  return (
    <>
      <ExportPanel />
      <CheckPanel />
    </>
  );
}
