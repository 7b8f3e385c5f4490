// The data that the program wrote into data/, and a few constants.

const all = window.pairwise;
const byName = new Map(all.varieties.map((variety) => [variety.name, variety]));
const MOST_COMPARED = 6;
// Pairs that can be followed across a picture.
const MOST_FOLLOWED = 24;
