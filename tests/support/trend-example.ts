import type { TrainTrend } from "#core/contract/records/trend.ts";

/** Ten daily values about 10 with the limits that go with them; invented inputs. */
export function trendOf(count = 10): TrainTrend {
  const dates = Array.from({ length: count }, (_, at) =>
    new Date(Date.UTC(2026, 0, 1) + at * 86_400_000).toISOString().slice(0, 10),
  );
  const text = (value: number) => value.toFixed(4) as TrainTrend["nominalFactor"];
  return {
    trainId: "train",
    nominalFactor: text(10.02),
    reference: text(10),
    tolerance: { percent: text(2), origin: "Proposal.", rule: "guarded-acceptance" },
    conformity: null,
    points: dates.map((date, at) => ({
      calibrationId: `c-${at}`,
      state: "superseded",
      at: `${date}T09:00:00.000Z`,
      date,
      factor: text(10 + (at % 3) * 0.01),
      expandedUncertainty: text(0.02),
      shownFactor: (10 + (at % 3) * 0.01).toFixed(3),
      shownUncertainty: "0.020",
      personId: at % 2 === 0 ? "p-1" : "p-2",
      person: at % 2 === 0 ? "Ada Example" : "Ben Example",
      stageMicrometerId: "m-1",
      micrometer: "SM 1 (4711)",
      certificate: "C-1",
      baseline: 0,
      counts: at !== 3,
      normalisedError: at === 0 ? null : text(0.25),
      normalisedErrorApart: at === 0 ? null : text(0.25),
      agreement: at === 0 ? null : "agrees",
      level: at === 5 ? "action" : "within",
      signals:
        at === 5 ? [{ rule: "T1", weight: "signal", points: [5], words: "T1: one value beyond 3σ" }] : [],
    })),
    baselines: [
      {
        begunBy: null,
        from: dates[0] ?? "",
        to: dates.at(-1) ?? "",
        kind: "preliminary",
        rule: "preliminary",
        n: count,
        centre: text(10.01),
        warning: { lower: text(9.99), upper: text(10.03) },
        action: { lower: text(9.98), upper: text(10.04) },
        slopePerDay: null,
      },
    ],
    events: [{ date: dates[4] ?? "", kind: "event", words: "a service", breaks: true }],
    checks: [],
    steps: [],
    drift: null,
    verdict: { kind: "steady", why: "10 calibrations." },
    advice: { usualDays: 1, methods: [], proposedDays: null, proposedDue: null, reason: "" },
    dueOn: null,
    asOf: dates.at(-1) ?? "",
  };
}
