// The button to take back what was just noted goes after ten seconds. The line in the journal keeps one for ever.
const SECONDS = 10;
for (const undo of document.querySelectorAll("[data-undo]")) {
  setTimeout(() => {
    if (!undo.contains(document.activeElement)) undo.remove();
  }, SECONDS * 1000);
}
