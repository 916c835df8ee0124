import { Ruler } from "../parts/layout/Ruler.tsx";
import { keysOf } from "../window/keymap.ts";
import { SCREEN_START, SCREEN_TITLES, SCREENS } from "../window/location.ts";
import { useNavigation, useNavigationState } from "../window/navigation-context.tsx";
import styles from "./Rail.module.css";
import { ScreenIcon } from "./ScreenIcon.tsx";
import { SCREEN_OF } from "./screens.tsx";

/** The screens at the left, each with its key; the one shown reaches over to the engraved scale. */
export function Rail({ enabled }: { enabled: boolean }) {
  const navigation = useNavigation();
  const { location } = useNavigationState();
  return (
    <nav className={styles.rail} aria-label="Screens">
      <p className={styles.name}>
        <ScreenIcon screen="mark" />
        <span className={styles.word}>Linefall</span>
      </p>
      <ul className={styles.list}>
        {SCREENS.filter((screen) => SCREEN_OF[screen]).map((screen) => (
          <li key={screen}>
            <button
              type="button"
              className={styles.item}
              disabled={!enabled}
              title={SCREEN_TITLES[screen]}
              aria-current={enabled && location.screen === screen ? "page" : undefined}
              onClick={() => navigation.go(SCREEN_START[screen])}
            >
              <ScreenIcon screen={screen} />
              <span className={styles.word}>{SCREEN_TITLES[screen]}</span>
              <span aria-hidden="true" className={styles.key}>
                {keysOf(`go.${screen}`)[0]}
              </span>
            </button>
          </li>
        ))}
      </ul>
      <div className={styles.scale}>
        <Ruler upright />
      </div>
    </nav>
  );
}
