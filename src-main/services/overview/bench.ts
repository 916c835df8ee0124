import type { BenchOverview } from "#core/contract/records/bench.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { benchCounts } from "../../store/repositories/counts-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { personInUse } from "../../store/repositories/people-repository.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import { trainStatus } from "../calibration/train-status.ts";
import type { Deps } from "../write-context/deps.ts";

function overview({ db, clock }: Deps): BenchOverview {
  const today = clock.today();
  return {
    microscopes: listMicroscopes(db).map((microscope) => ({
      microscope,
      trains: trainsOfMicroscope(db, microscope.id).map((train) => trainStatus(db, train, today)),
    })),
    counts: benchCounts(db),
    asOf: clock.now(),
  };
}

export function benchServices(deps: Deps): HandlersOf<"bench.status" | "bench.overview" | "bench.changes"> {
  return {
    "bench.status": () => ({
      program: deps.program,
      databasePath: deps.paths.databaseFile,
      demo: deps.demo,
      personInUse: personInUse(deps.db),
      notices: [...deps.notices],
    }),
    "bench.overview": () => overview(deps),
    "bench.changes": ({ since }) => deps.changes.since(since),
  };
}
