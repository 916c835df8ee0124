import type { TraceSubject } from "#core/contract/records/trace.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { Button } from "../Button.tsx";

export interface TouchedButtonProps {
  readonly subject: TraceSubject;
  /** Tells this button from its like in a table: what it asks about. */
  readonly about?: string;
}

/** Leads to every result that rests on `subject`. */
export function TouchedButton({ subject, about }: TouchedButtonProps) {
  const navigation = useNavigation();
  return (
    <Button
      {...(about ? { look: "quiet", "aria-label": `Affected results: ${about}` } : {})}
      onClick={() => navigation.go({ screen: "trace", result: null, subject })}
    >
      Affected results
    </Button>
  );
}
