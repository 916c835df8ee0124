import { useState } from "react";
import { fitWords, objectsPerField, scatterOfFields } from "#core/counting/results/scatter-of-fields.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import type { CountingStore } from "../state/counting-store.ts";
import { fieldCounts } from "../state/live-results.ts";
import styles from "./ResultPanel.module.css";

/** More on how the objects lie over the fields, folded away below the dispersion test; computed while it is open. */
export function ScatterDetails({ store }: { store: CountingStore }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>More on the scatter between fields</summary>
      {open ? <ScatterFigures store={store} /> : null}
    </details>
  );
}

function ScatterFigures({ store }: { store: CountingStore }) {
  const fields = useLivePart(store, (state) => state.fields);
  const found = scatterOfFields(objectsPerField(store.state().count, fields.map(fieldCounts)));
  if (!found) return null;
  const { morisita, negativeBinomial, fit } = found;
  return (
    <dl className={styles.scatter}>
      <div>
        <dt>Morisita's index</dt>
        <dd>{morisita === null ? "for whole objects, from two on" : morisita.toPrecision(3)}</dd>
        <dd className={styles.soft}>
          1 where objects lie at random, more where they cluster, less where they keep apart. It does not
          depend on how many were counted, so two samples may be compared by it.
        </dd>
      </div>
      <div>
        <dt>k of the negative binomial</dt>
        <dd>
          {negativeBinomial === null ? "none: no more scatter than chance gives" : kWords(negativeBinomial.k)}
        </dd>
        <dd className={styles.soft}>
          The smaller k, the stronger the clusters; above about 8 the objects lie almost at random. By
          moments: of few fields a rough guide.
        </dd>
      </div>
      <div>
        <dt>Fit to Poisson's law</dt>
        <dd>{fit === null ? "too few fields for it" : fitWords(fit)}</dd>
        <dd className={styles.soft}>
          Compares how many fields hold 0, 1, 2 … objects with chance, classes joined until 5 fields are
          expected in each. Clusters show sooner in the dispersion test above; this one also sees other
          shapes.
        </dd>
      </div>
    </dl>
  );
}

function kWords(k: number): string {
  return k > 0 ? k.toPrecision(3) : "not to be found from so few objects";
}
