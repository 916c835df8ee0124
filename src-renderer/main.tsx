import "./app/no-code-from-text.ts";
import "./app/base.css";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./app/App.tsx";
import { createBridge } from "./bridge/bridge-context.tsx";
import { electronTransport } from "./bridge/electron-transport.ts";
import { loopbackTransport } from "./bridge/loopback-transport.ts";
import { KeyDispatcher } from "./window/key-dispatcher.ts";
import { Navigation } from "./window/navigation.ts";
import { rememberedTheme, showTheme } from "./window/theme.ts";

const memory = { storage: localStorage, page: document };
showTheme(rememberedTheme(memory), document.documentElement, memory);

const place = document.getElementById("window-root");
if (!place) throw new Error("The page has no place for the program.");

createRoot(place).render(
  <StrictMode>
    <App
      bridge={createBridge(electronTransport(window) ?? loopbackTransport((...args) => fetch(...args)))}
      navigation={new Navigation(sessionStorage)}
      dispatcher={new KeyDispatcher()}
    />
  </StrictMode>,
);
