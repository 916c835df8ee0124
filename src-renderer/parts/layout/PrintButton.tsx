import { Button } from "../Button.tsx";

/** Prints the page shown, by the host's own print function; “save as PDF” is one of its printers. */
export function PrintButton({
  words = "Print or save as PDF",
  disabled = false,
}: {
  words?: string;
  disabled?: boolean;
}) {
  return (
    <Button disabled={disabled} onClick={() => window.print()}>
      {words}
    </Button>
  );
}
