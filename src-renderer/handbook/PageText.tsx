import type { ReactNode } from "react";
import Markdown, { type Components } from "react-markdown";
import remarkGfm from "remark-gfm";
import { HandbookPageName } from "../window/location.ts";
import { shown } from "../window/notation.ts";
import { DRAWING_OF } from "./drawings/drawing-of.tsx";
import figures from "./drawings/drawings.module.css";
import styles from "./Handbook.module.css";

export interface PageTextProps {
  /** Markdown; `drawing:name` or `picture:name` as an image and `page:name` as a link stand for our own. */
  readonly text: string;
  readonly onPage?: (name: HandbookPageName) => void;
}

/** A page of the handbook as set text. */
export function PageText({ text, onPage }: PageTextProps) {
  const components: Components = {
    // The title of the page stands above it as a heading of the window.
    h2: ({ children }) => <h3>{children}</h3>,
    h3: ({ children }) => <h4>{children}</h4>,
    // A drawing is a figure, which no paragraph may hold.
    p: ({ children, node }) =>
      node?.children.length === 1 && isImage(node.children[0]) ? children : <p>{children}</p>,
    img: ({ src, alt }) => (
      <figure className={figures.figure}>
        <Picture address={String(src)} words={alt ?? ""} />
        <figcaption>{alt}</figcaption>
      </figure>
    ),
    a: ({ href, children }) => (
      <Link href={href} onPage={onPage}>
        {children}
      </Link>
    ),
  };
  return (
    <div className={styles.text}>
      <Markdown remarkPlugins={[remarkGfm]} urlTransform={(url) => url} components={components}>
        {shown(text)}
      </Markdown>
    </div>
  );
}

const isImage = (node: { type: string; tagName?: string } | undefined): boolean => node?.tagName === "img";

function nameAfter(start: string, address: unknown): string {
  return typeof address === "string" && address.startsWith(start) ? address.slice(start.length) : "";
}

/** Pictures of the program itself, as the README shows them. */
const PICTURES = import.meta.glob<string>(
  "../../resources/pictures/practice-{tenths,line-up,find-fault,choose,measure,count}-*.png",
  {
    eager: true,
    query: "?url",
    import: "default",
  },
);

function Picture({ address, words }: { address: string; words: string }) {
  const picture = PICTURES[`../../resources/pictures/${nameAfter("picture:", address)}-light.png`];
  if (picture) return <img src={picture} alt={words} loading="lazy" />;
  const Drawing = DRAWING_OF[nameAfter("drawing:", address)];
  if (!Drawing) throw new Error(`The handbook has no “${address}”`);
  return <Drawing />;
}

function Link({
  href,
  onPage,
  children,
}: {
  href: string | undefined;
  onPage: PageTextProps["onPage"];
  children: ReactNode;
}) {
  const name = HandbookPageName.safeParse(nameAfter("page:", href)).data;
  if (!name || !onPage) return <em>{children}</em>;
  return (
    <a
      href={`#${name}`}
      className={styles.link}
      onClick={(event) => {
        event.preventDefault();
        onPage(name);
      }}
    >
      {children}
    </a>
  );
}
