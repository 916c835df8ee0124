import { useEffect } from "react";

/**
 * Words at the foot of every printed page, by a property that the style sheet of the pages reads; a string of it, so quotes
 * and backslashes are escaped.
 */
export function usePaperFoot(property: "--paper-foot" | "--report-foot", text: string): void {
  useEffect(() => {
    const { style } = document.documentElement;
    style.setProperty(property, `"${text.replace(/["\\]/g, (character) => `\\${character}`)}"`);
    return () => {
      style.removeProperty(property);
    };
  }, [property, text]);
}
