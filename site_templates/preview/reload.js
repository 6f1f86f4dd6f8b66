'use strict';
/* Loads the page anew when what the preview serves at its address differs from what is shown. */
(function () {
  const shown = document.querySelector('meta[name="preview-state"]').content;
  const remembered = 'preview-place';
  let told = null;
  let asking = false;
  let again = false;

  /** Keep where the reader is, and which details are open, for the page that comes. */
  function remember() {
    const open = Array.from(document.querySelectorAll('details'), (details) => details.open);
    sessionStorage.setItem(remembered, JSON.stringify({ at: location.pathname, x: scrollX, y: scrollY, open }));
  }

  function restore() {
    const kept = JSON.parse(sessionStorage.getItem(remembered));
    sessionStorage.removeItem(remembered);
    if (kept === null || kept.at !== location.pathname) {
      return;
    }
    document.querySelectorAll('details').forEach((details, place) => {
      details.open = kept.open[place] ?? details.open;
    });
    scrollTo({ left: kept.x, top: kept.y, behavior: 'instant' });
  }

  /** Ask for the state of this page; only one question at a time, and once more if something was told meanwhile. */
  async function ask() {
    again = asking;
    if (asking) {
      return;
    }
    asking = true;
    try {
      const answer = await fetch(location.pathname, { method: 'HEAD', cache: 'no-store' });
      if (answer.headers.get('ETag') !== '"' + shown + '"') {
        remember();
        location.reload();
      }
    } catch {
      // The preview has ended; the connection below finds the next one.
    } finally {
      asking = false;
    }
    if (again) {
      ask();
    }
  }

  /** Listen only while the page is seen: a browser holds few connections to one place. */
  function listen() {
    if (document.hidden && told !== null) {
      told.close();
      told = null;
    } else if (!document.hidden && told === null) {
      told = new EventSource('/preview/changes');
      told.onmessage = ask;
    }
  }

  document.addEventListener('visibilitychange', listen);
  addEventListener('pagehide', () => { if (told !== null) { told.close(); told = null; } });
  addEventListener('pageshow', listen);
  addEventListener('load', restore);
})();
