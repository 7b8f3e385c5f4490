// The data that the program wrote into data/, and a few constants.

const all = window.pairwise;
const byName = new Map(all.varieties.map((variety) => [variety.name, variety]));
// The path from this page to the folder of the gallery.
const root = document.documentElement.dataset.root || "";
const MOST_COMPARED = 6;
// Pairs that can be followed across a picture.
const MOST_FOLLOWED = 24;
