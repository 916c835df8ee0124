import { app } from "electron";

await app.whenReady();
