import { NEW_BENCH_LABORATORY } from "#core/contract/records/laboratory.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { demoCertificates } from "./certificates.ts";
import type { DemoOperator } from "./demo-operator.ts";
import {
  DIAMETER,
  INVENTED,
  LABORATORY_NAME,
  MICROMETERS,
  MICROSCOPES,
  type MicrometerKey,
  type NewCertificate,
  PEOPLE,
  type PersonKey,
  POLAR_AND_EQUATORIAL,
  type StandKey,
} from "./registers.ts";
import type { TrainPlace } from "./true-factors.ts";

/** The registered bench, as the rest of the scenario refers to it. */
export interface DemoStage {
  readonly people: Readonly<Record<PersonKey, string>>;
  readonly stands: Readonly<Record<StandKey, Microscope>>;
  readonly micrometers: Readonly<Record<MicrometerKey, StageMicrometer>>;
  /** The certificate in use of each micrometer; the fine one's is replaced on the way. */
  readonly certificates: Record<MicrometerKey, Certificate>;
  readonly methods: { readonly polar: Method; readonly diameter: Method };
  trainOf(place: TrainPlace): OpticalTrain;
}

async function eachOf<K extends string, V, R>(
  record: Readonly<Record<K, V>>,
  make: (value: V, key: K) => Promise<R>,
): Promise<Record<K, R>> {
  const made: Partial<Record<K, R>> = {};
  for (const key of Object.keys(record) as K[]) made[key] = await make(record[key], key);
  return made as Record<K, R>;
}

function registerCertificate(
  operator: DemoOperator,
  micrometer: StageMicrometer,
  certificate: NewCertificate,
): Promise<Certificate> {
  return operator.act(
    "certificates.register",
    { requestId: operator.request(), certificate: { ...certificate, stageMicrometerId: micrometer.id } },
    300,
  );
}

/** Registers people, stands, micrometers with their first certificates, and the methods. */
export async function registerStage(operator: DemoOperator): Promise<DemoStage> {
  const people = await eachOf(PEOPLE, async (person) => {
    const { id } = await operator.act("people.register", { requestId: operator.request(), person }, 60);
    return id;
  });
  await operator.sit(people.maren);
  const settings = { ...NEW_BENCH_LABORATORY, name: LABORATORY_NAME };
  await operator.act("laboratory.change", { requestId: operator.request(), settings, reason: INVENTED }, 60);
  const stands = await eachOf(MICROSCOPES, (microscope) =>
    operator.act("microscopes.register", { requestId: operator.request(), microscope }, 600),
  );
  const micrometers = await eachOf(MICROMETERS, (micrometer) =>
    operator.act("micrometers.register", { requestId: operator.request(), micrometer }, 120),
  );
  const written = demoCertificates(operator.clock);
  const certificates = await eachOf(micrometers, (micrometer, key) =>
    registerCertificate(operator, micrometer, written[key]),
  );
  const define = (definition: typeof DIAMETER): Promise<Method> =>
    operator.act("methods.define", { requestId: operator.request(), familyId: null, definition }, 900);
  const methods = { polar: await define(POLAR_AND_EQUATORIAL), diameter: await define(DIAMETER) };
  const overview = await operator.act("bench.overview", {}, 0);
  const trains = overview.microscopes.flatMap((one) => one.trains.map((status) => status.train));

  function trainOf({ stand, eyepiece, position }: TrainPlace): OpticalTrain {
    const microscope = stands[stand];
    const objective = microscope.objectives.find((one) => one.position === position);
    const found = trains.find(
      (train) =>
        train.objectiveId === objective?.id && train.eyepieceId === microscope.eyepieces[eyepiece]?.id,
    );
    if (!found) throw new Error(`The demo bench has no train at position ${position} of the ${stand} stand.`);
    return found;
  }

  return { people, stands, micrometers, certificates, methods, trainOf };
}
