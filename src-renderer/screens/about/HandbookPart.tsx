import { useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import styles from "../../handbook/Handbook.module.css";
import { HANDBOOK, handbookPage } from "../../handbook/handbook-pages.ts";
import { searchHandbook } from "../../handbook/handbook-search.ts";
import { PageText } from "../../handbook/PageText.tsx";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import type { HandbookPageName } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";

const FIRST_PAGE: HandbookPageName = "first-hour";

/** The handbook: its pages at the left, found by words; one page, or all of them for paper, at the right. */
export function HandbookPart({ page = FIRST_PAGE }: { page?: HandbookPageName | undefined }) {
  const navigation = useNavigation();
  const [typed, setTyped] = useState("");
  const [isWhole, setWhole] = useState(false);
  const show = (name: HandbookPageName): void => {
    setWhole(false);
    navigation.go({ screen: "about", part: "handbook", page: name });
  };
  const shown = isWhole ? HANDBOOK : [handbookPage(page)];
  return (
    <div className={styles.frame}>
      <nav className={styles.side} aria-label="Pages of the handbook" data-screen-only>
        <TextField
          id="handbook-search"
          label="Find in the handbook"
          value={typed}
          onChange={setTyped}
          error={null}
          autoFocus
        />
        {typed.trim() === "" ? (
          <Pages
            pages={HANDBOOK.map(({ name, title }) => ({ id: name, name, words: title, where: "" }))}
            current={isWhole ? null : page}
            onPage={show}
          />
        ) : (
          <Passages typed={typed} onPage={show} />
        )}
      </nav>
      <div>
        {shown.map(({ name, title, text }, at) => (
          <Panel
            key={name}
            title={title}
            actions={
              at === 0 ? (
                <>
                  <Button look="quiet" onClick={() => setWhole(!isWhole)}>
                    {isWhole ? "One page" : "All pages, for paper"}
                  </Button>
                  <PrintButton words="Print" />
                </>
              ) : null
            }
          >
            <PageText text={text} onPage={show} />
          </Panel>
        ))}
      </div>
    </div>
  );
}

function Passages({ typed, onPage }: { typed: string; onPage: (name: HandbookPageName) => void }) {
  const found = searchHandbook(typed);
  return (
    <>
      <p role="status">{countedNoun(found.length, "passage")} found</p>
      <Pages
        pages={found.map(({ id, page, title, heading, words }) => ({
          id,
          name: page,
          words: heading || title,
          where: `${heading ? `${title}: ` : ""}${words.slice(0, 90)} …`,
        }))}
        current={null}
        onPage={onPage}
      />
    </>
  );
}

interface PagesProps {
  readonly pages: readonly { id: string; name: HandbookPageName; words: string; where: string }[];
  readonly current: HandbookPageName | null;
  readonly onPage: (name: HandbookPageName) => void;
}

function Pages({ pages, current, onPage }: PagesProps) {
  const roving = useRoving(pages.length);
  return (
    <ul className={styles.pages}>
      {pages.map(({ id, name, words, where }, at) => (
        <li key={id}>
          <button
            type="button"
            className={styles.page}
            aria-current={name === current ? "page" : undefined}
            {...roving(at)}
            onClick={() => onPage(name)}
          >
            {words}
            {where === "" ? null : <span className={styles.where}>{where}</span>}
          </button>
        </li>
      ))}
    </ul>
  );
}
