import { useEffect } from "react";
import { shown } from "./notation.ts";

/** What the window is called, with numbers and dates as the person reads them. */
export function useWindowTitle(title: string): void {
  // At every drawing: a change of the settings draws everything again.
  useEffect(() => {
    document.title = `${shown(title)} · Linefall`;
  });
}
