// Begins: shows the page to those whose browser can inflate pictures.

// For debugging and measuring.
Object.assign(all, { inflate, unpack, paint, sees });
if (typeof DecompressionStream === "undefined") {
  if (byId("too-old")) byId("too-old").hidden = false;
} else {
  byId("needs-script").hidden = false;
  if (byId("grid")) explorePage();
  if (byId("sides")) comparePage();
  if (document.querySelector("[data-variety]")) groundPage();
}
