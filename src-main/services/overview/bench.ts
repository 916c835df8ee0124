import type { BenchOverview } from "#core/contract/records/bench.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
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

export function benchServices(deps: Deps) {
  return handlers({
    "bench.status": () => ({
      program: deps.program,
      databasePath: deps.paths.databaseFile,
      demo: deps.demo,
      offersDemo: deps.openDemo !== null,
      showsFolders: deps.showInFolder !== null,
      personInUse: personInUse(deps.db),
      notices: [...deps.notices],
    }),
    // Whoever can ask here has a bench that is open.
    "bench.opening": () => null,
    "bench.openDemo": async () => {
      if (deps.openDemo === null)
        throw new Refusal("demo.unavailable", "The demo bench cannot be opened from this window.", {
          hint: "Start it with “npm run demo” in the folder of the program.",
        });
      await deps.openDemo().catch((error: Error) => {
        throw new Refusal("demo.unavailable", `The demo bench did not open (${error.message}).`, {
          hint: "Try again, or start it with “npm run demo” in the folder of the program.",
        });
      });
      return {};
    },
    "bench.faults": ({ count }) => deps.faultsSoFar(count),
    "bench.overview": () => overview(deps),
    "bench.changes": ({ since }) => deps.changes.since(since),
  });
}
