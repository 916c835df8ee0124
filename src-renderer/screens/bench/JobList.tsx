import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./JobList.module.css";
import type { Job } from "./jobs.ts";
import { useNumberChoice } from "./use-number-choice.ts";

/** What needs doing today; its number key starts it. */
export function JobList({ jobs, more }: { jobs: readonly Job[]; more: number }) {
  const navigation = useNavigation();
  const list = useNumberChoice(
    jobs.map((job) => job.go),
    0,
  );
  return (
    <Panel title="To do today" lead="Press the number to start.">
      <ol ref={list} className={styles.jobs}>
        {jobs.map((job, index) => (
          <li key={job.key}>
            <button type="button" className={styles.job} onClick={() => navigation.go(job.go)}>
              <span className={styles.number}>{index + 1}</span>
              <StateMark state={job.mark} />
              <span className={styles.words}>
                <span className={styles.what}>{job.words}</span>
                <span className={styles.why}>
                  <Unbroken text={job.why} />
                </span>
              </span>
            </button>
          </li>
        ))}
      </ol>
      {more > 0 ? (
        <p className={styles.more}>
          {countedNoun(more, "more objective waits", "more objectives wait")}: see the turrets below.
        </p>
      ) : null}
    </Panel>
  );
}
