import "./app/no-code-from-text.ts";
import "./app/base.css";
// Before every screen, so that what a screen says beside them holds.
import "./parts/layout/Shapes.module.css";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./app/App.tsx";
import { createBridge } from "./bridge/bridge-context.tsx";
import { electronBridge } from "./bridge/electron-bridge.ts";
import { loopbackTransport } from "./bridge/loopback-transport.ts";
import { transportOver } from "./bridge/transport.ts";
import { applySettings } from "./window/apply-settings.ts";
import { KeyDispatcher } from "./window/key-dispatcher.ts";
import { Navigation } from "./window/navigation.ts";
import { windowSettings } from "./window/own-settings.ts";

const memory = { storage: localStorage, page: document };
const apply = (): void => applySettings(windowSettings.settings(), document, memory);
apply();
// Before anything is drawn: whoever draws again reads the keys and numbers of the new settings.
windowSettings.subscribe(apply);

const place = document.getElementById("window-root");
if (!place) throw new Error("The page has no place for the program.");

const electron = electronBridge(window);
const transport = electron ? transportOver(electron.call) : loopbackTransport((...args) => fetch(...args));
const navigation = new Navigation(sessionStorage);
const dispatcher = new KeyDispatcher();
const root = createRoot(place);

/** Each drawing has a client and a memory of its own, so that a bench which took another's place is read whole. */
function draw(time: number): void {
  const host = {
    tellUnsaved: (words: readonly string[]) => electron?.tellUnsaved(words),
    readAnew: () => draw(time + 1),
  };
  root.render(
    <StrictMode>
      <App
        key={time}
        bridge={createBridge(transport, host)}
        navigation={navigation}
        dispatcher={dispatcher}
      />
    </StrictMode>,
  );
}
draw(0);
