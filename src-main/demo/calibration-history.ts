import type { TypedSetting } from "#core/contract/records/calibration.ts";
import { demoCertificates, TRUE_SCALES, type TrueScale } from "./certificates.ts";
import type { DemoOperator } from "./demo-operator.ts";
import { INVENTED, type MicrometerKey, type PersonKey } from "./registers.ts";
import type { Chance } from "./seeded-chance.ts";
import type { DemoStage } from "./stage.ts";
import { SERVICE_DAYS_AGO, type TrainPlace, trueFactor } from "./true-factors.ts";

/** Something that happens on the bench on a day. */
export interface DemoEvent {
  readonly daysAgo: number;
  /** UTC. */
  readonly time: string;
  run(operator: DemoOperator, stage: DemoStage): Promise<void>;
}

interface CalibrationPlan {
  readonly place: TrainPlace;
  readonly micrometer: MicrometerKey;
  readonly daysAgo: readonly number[];
  /** Who calibrates, in turn. */
  readonly by: readonly PersonKey[];
  /** Days until the next one is due. */
  readonly interval: number;
}

const REGULAR = [544, 484, 424, 364, 304, 244, 184, 124, 64, 6] as const;
const HALF_YEAR = 183;
const YEAR = 365;

const PLANS: readonly CalibrationPlan[] = [
  {
    place: { stand: "window", eyepiece: 0, position: 2 },
    micrometer: "millimetre",
    daysAgo: REGULAR,
    by: ["maren"],
    interval: HALF_YEAR,
  },
  {
    place: { stand: "window", eyepiece: 0, position: 3 },
    micrometer: "millimetre",
    daysAgo: REGULAR,
    by: ["maren", "tamsin"],
    interval: HALF_YEAR,
  },
  {
    place: { stand: "window", eyepiece: 0, position: 4 },
    micrometer: "millimetre",
    daysAgo: REGULAR,
    by: ["maren"],
    interval: HALF_YEAR,
  },
  {
    place: { stand: "door", eyepiece: 0, position: 1 },
    micrometer: "millimetre",
    daysAgo: REGULAR,
    by: ["idris"],
    interval: HALF_YEAR,
  },
  {
    place: { stand: "door", eyepiece: 0, position: 3 },
    micrometer: "millimetre",
    daysAgo: REGULAR,
    by: ["idris"],
    interval: HALF_YEAR,
  },
  // Forgotten: due a month ago.
  {
    place: { stand: "window", eyepiece: 1, position: 2 },
    micrometer: "millimetre",
    daysAgo: [540, 396],
    by: ["maren"],
    interval: YEAR,
  },
  {
    place: { stand: "window", eyepiece: 1, position: 3 },
    micrometer: "millimetre",
    daysAgo: [539, 250, 90],
    by: ["tamsin"],
    interval: YEAR,
  },
  // By the fine scale, before and after its certificate was corrected.
  {
    place: { stand: "window", eyepiece: 1, position: 4 },
    micrometer: "fine",
    daysAgo: [538, 330, 238, 60],
    by: ["tamsin"],
    interval: YEAR,
  },
  // By the long scale, whose certificate has run out since.
  {
    place: { stand: "door", eyepiece: 1, position: 1 },
    micrometer: "long",
    daysAgo: [530, 200],
    by: ["idris"],
    interval: YEAR,
  },
  {
    place: { stand: "door", eyepiece: 1, position: 3 },
    micrometer: "millimetre",
    daysAgo: [529, 180],
    by: ["idris"],
    interval: YEAR,
  },
];

/** Days ago on which the corrected certificate arrived. */
const CORRECTED_DAYS_AGO = 239;
const FINE_TRAIN: TrainPlace = { stand: "window", eyepiece: 1, position: 4 };

/** Position of a line as the certificate would have it, between certified lines by interpolation, µm. */
function truePosition(scale: TrueScale, nominal: number): number {
  for (let i = 1; i < scale.length; i++) {
    const [before, after] = [scale[i - 1], scale[i]];
    if (before === undefined || after === undefined || nominal > after[0]) continue;
    const part = (nominal - before[0]) / (after[0] - before[0]);
    return nominal + before[1] + part * (after[1] - before[1]);
  }
  throw new RangeError(`${nominal} µm lies beyond the scale.`);
}

interface Scales {
  readonly pitch: number;
  readonly length: number;
  readonly scale: TrueScale;
}

/** One alignment: a long run of lines, the left reading near the reticle's zero, both read to a tenth. */
function typedSetting(factor: number, { pitch, length, scale }: Scales, chance: Chance): TypedSetting {
  const most = Math.min(length, Math.floor((97 * factor) / pitch) * pitch);
  const lineCount = Math.round(most / pitch) - chance.whole(3);
  const first = chance.whole(Math.max(1, Math.min(5, Math.round(length / pitch) - lineCount)));
  const left = chance.whole(15) / 10;
  const span = truePosition(scale, (first + lineCount) * pitch) - truePosition(scale, first * pitch);
  const right = left + span / factor + 0.05 * chance.normal();
  return {
    reticleLeft: left.toFixed(1),
    reticleRight: right.toFixed(1),
    lineLeft: String(first),
    lineRight: String(first + lineCount),
  };
}

function remarkOf(place: TrainPlace, daysAgo: number, previous: number | undefined): string {
  const afterService =
    place.stand === "door" && daysAgo < SERVICE_DAYS_AGO && (previous ?? 0) >= SERVICE_DAYS_AGO;
  return afterService
    ? `First calibration after the stand came back from its service. ${INVENTED}`
    : INVENTED;
}

async function calibrate(
  operator: DemoOperator,
  stage: DemoStage,
  plan: CalibrationPlan,
  daysAgo: number,
  reason: string,
): Promise<void> {
  const { chance, clock } = operator;
  const turn = plan.daysAgo.indexOf(daysAgo);
  await operator.sit(stage.people[plan.by[turn % plan.by.length] ?? "maren"]);
  const micrometer = stage.micrometers[plan.micrometer];
  const length = Number(micrometer.scaleLengthUm);
  const scales = { pitch: length / micrometer.divisions, length, scale: TRUE_SCALES[plan.micrometer] };
  const draft = await operator.act(
    "calibrations.begin",
    {
      requestId: operator.request(),
      calibration: {
        trainId: stage.trainOf(plan.place).id,
        stageMicrometerId: micrometer.id,
        certificateId: stage.certificates[plan.micrometer].id,
      },
    },
    120,
  );
  // Seating and focus differ a little from one occasion to the next.
  const factor = trueFactor(plan.place, daysAgo) * (1 + 0.0004 * chance.normal());
  const before = plan.daysAgo[turn - 1];
  await operator.act(
    "calibrations.keepDraft",
    {
      calibrationId: draft.id,
      settings: Array.from({ length: 5 }, () => typedSetting(factor, scales, chance)),
      conditions: {
        ...draft.conditions,
        temperature: chance.between(19.5, 23).toFixed(1),
        temperatureHalfWidth: "1.5",
      },
      estimator: "origin-regression",
      coverage: "t95",
      remark: remarkOf(plan.place, daysAgo, before),
    },
    420,
  );
  await operator.act(
    "calibrations.putInForce",
    {
      requestId: operator.request(),
      calibrationId: draft.id,
      dueOn: clock.dateDaysAgo(daysAgo - plan.interval),
      reason,
    },
    180,
  );
}

/**
 * The laboratory corrects the certificate of the fine scale: the factor that rests on it is withdrawn. What was measured
 * with it before, a closed and reviewed sheet, is left to whoever looks at the bench: it waits under Trace.
 */
async function correctCertificate(operator: DemoOperator, stage: DemoStage): Promise<void> {
  await operator.sit(stage.people.maren);
  const { micrometers, certificates } = stage;
  const wrong = certificates.fine;
  const written = demoCertificates(operator.clock).fineCorrected;
  certificates.fine = await operator.act(
    "certificates.replace",
    {
      requestId: operator.request(),
      certificateId: wrong.id,
      certificate: { ...written, stageMicrometerId: micrometers.fine.id },
      reason: `The laboratory had printed the errors with the wrong sign. ${INVENTED}`,
    },
    300,
  );
  const trainId = stage.trainOf(FINE_TRAIN).id;
  const calibrations = await operator.act("calibrations.list", { trainId }, 0);
  for (const calibration of calibrations) {
    if (calibration.state !== "in force") continue;
    await operator.act(
      "calibrations.withdraw",
      {
        requestId: operator.request(),
        calibrationId: calibration.id,
        reason: `Certificate ${wrong.number} had the errors with the wrong sign and was replaced by ${written.number}. ${INVENTED}`,
      },
      600,
    );
  }
}

function reasonFor(daysAgo: number): string {
  if (daysAgo > 500) return "first calibration";
  return "calibration by the house plan";
}

/** Eighteen months of calibrations, oldest first. The 100× never gets one. */
export function calibrationEvents(): DemoEvent[] {
  const calibrations = PLANS.flatMap((plan, index) =>
    plan.daysAgo.map(
      (daysAgo): DemoEvent => ({
        daysAgo,
        time: `${String(8 + Math.floor(index / 4)).padStart(2, "0")}:${String((index % 4) * 15).padStart(2, "0")}`,
        run: (operator, stage) => calibrate(operator, stage, plan, daysAgo, reasonFor(daysAgo)),
      }),
    ),
  );
  return [...calibrations, { daysAgo: CORRECTED_DAYS_AGO, time: "14:00", run: correctCertificate }];
}
