import news from "../../../resources/CHANGELOG.md?raw";
import { PageText } from "../../handbook/PageText.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";

/** What changed from version to version, as a person at the bench notices it. */
export function NewsPart() {
  return (
    <Panel title="What changed" lead="What a person at the bench notices, newest first.">
      <PageText text={news.slice(news.indexOf("\n## "))} />
    </Panel>
  );
}
