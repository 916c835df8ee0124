// Runs before the window's own script: a window that has not entered is led to where it can.
if (sessionStorage.getItem("linefall.window") === null) location.replace("/enter");
