// Carries the colours that a visitor has chosen from page to page: the address
// remembers them behind the #. A place on a page follows them as `at`, as on the
// pages of grounds. Links that explore.js keeps up to date itself are left to it.
"use strict";

(function () {
  const isChosen = (part) => /^(class|arrangement|colours|seen|threads)=/.test(part);
  const partsOf = (place) => place.includes("=") ? place.split("&") : place ? ["at=" + place] : [];
  const here = () => partsOf(location.hash.slice(1));
  // Where links lead before anything is added.
  const plain = new WeakMap();

  function carry(event) {
    const link = event.target instanceof Element && event.target.closest("a[href]");
    if (!link) return;
    if (!plain.has(link)) plain.set(link, link.getAttribute("href"));
    const [page, place = ""] = plain.get(link).split("#");
    const isKept = window.pairwise && (page === "" || "keeps" in link.dataset || "keepsAt" in link.dataset);
    const isPage = page === "" || page.endsWith(".html");
    const own = partsOf(place), chosen = here().filter(isChosen);
    if (isKept || !isPage || own.some(isChosen)) return;
    link.setAttribute("href", chosen.length > 0 ? page + "#" + chosen.concat(own).join("&") : plain.get(link));
  }

  function goToPlace() {
    const at = location.hash.includes("=") && here().find((part) => part.startsWith("at="));
    const place = at && document.getElementById(decodeURIComponent(at.slice(3)));
    if (place) place.scrollIntoView();
  }

  // Before the browser follows the link, copies it or opens it elsewhere.
  for (const way of ["click", "auxclick", "contextmenu"]) addEventListener(way, carry, true);
  if (!window.pairwise) {
    addEventListener("hashchange", goToPlace);
    goToPlace();
  }
})();
