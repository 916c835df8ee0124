import { readPooled } from "#core/calibration/calculation-basis.ts";
import { pooledWords } from "#core/calibration/repeatability-line.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";

export interface ScatterTaken {
  readonly repeatability: string;
  readonly repeatabilityDegreesOfFreedom: string;
  readonly repeatabilitySource: string;
}

/** What is known of the scatter of the person at the bench, each to be taken for the method's repeatability by one key. */
export function ScatterChoice({
  source,
  onTake,
}: {
  source: string | undefined;
  onTake: (taken: ScatterTaken) => void;
}) {
  const person = useCall("bench.status", {}).data?.personInUse ?? null;
  return (
    <>
      <p>
        {source
          ? `The repeatability is that of ${source}. It is taken for a size read once, and its budget says so.`
          : "A size read once takes the repeatability above."}
      </p>
      {person ? <Known personId={person.id} name={person.name} onTake={onTake} /> : null}
    </>
  );
}

function Known({
  personId,
  name,
  onTake,
}: {
  personId: string;
  name: string;
  onTake: (taken: ScatterTaken) => void;
}) {
  const known = useCall("calibrations.scatters", { personId }).data ?? [];
  return known.map((one) => {
    const words = pooledWords(readPooled(one)).replace("this person", name);
    return (
      <p key={one.origin}>
        <Button
          onClick={() =>
            onTake({
              repeatability: roundToSignificant(decimal(one.deviation), 3).toFixed(),
              repeatabilityDegreesOfFreedom: one.degreesOfFreedom,
              repeatabilitySource: words,
            })
          }
        >
          Take {words}
        </Button>
      </p>
    );
  });
}
