// Colours: their values, how they look to the colour-blind, the cloth behind
// them, and in words.

const parts = (hex) => [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16));
const light = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4);
const encoded = (v) => {
  v = Math.min(Math.max(v, 0), 1);
  return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * Math.pow(v, 1 / 2.4) - 0.055));
};

// A colour as seen with some colour vision, with the program's own matrices.
function sees(rgb, who) {
  const sight = all.sights.find((s) => s.id === who);
  if (!sight) return rgb;
  const [r, g, b] = rgb.map(light);
  return sight.matrix.map((m) => encoded(m[0] * r + m[1] * g + m[2] * b));
}

// W3C, Web Content Accessibility Guidelines 2.2, "contrast ratio".
function contrast(a, b) {
  const [x, y] = [a, b].map((rgb) => rgb.map(light)).map(([r, g, b]) => 0.2126 * r + 0.7152 * g + 0.0722 * b);
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

// The cloth behind threads of these colours: the first on which all of them stand
// out, or else the one on which the faintest stands out most.
function backdrop(colours) {
  const cloths = all.backdrops.map(parts).map((cloth) => ({ cloth, least: Math.min(21, ...colours.map((rgb) => contrast(rgb, cloth))) }));
  const best = cloths.reduce((best, one) => one.least > best.least ? one : best);
  return (cloths.find(({ least }) => least >= all.stands_out) || best).cloth;
}

// How threads are painted that hang in an arrangement: the colour of the thread
// at a place, and the cloth behind; if one pair is followed, all others are grey.
function paints(threads, follow) {
  const seen = state.colours.map((hex) => sees(parts(hex), state.seen));
  const grey = sees(parts(all.grey), state.seen);
  const n = threads.length;
  const worn = (place) => seen[threads[((place % n) + n) % n]];
  const kept = follow ? [2 * follow - 2, 2 * follow - 1].map(worn) : [...new Set(threads)].map((c) => seen[c]);
  return { back: backdrop(kept), thread: (place) => follow && place >> 1 !== follow - 1 ? grey : worn(place) };
}

// The name of a colour as the class calls it, if the page shows the class, or as
// the gallery does.
function colourName(c) {
  const named = (list) => list && list[c] && list[c].rgb === state.colours[c] && list[c].name;
  return (state.class && named(all.class.colours)) || named(all.colours) || (all.class && named(all.class.colours)) || state.colours[c];
}

// The arrangement of colours, in words.
function hungInWords(threads = state.arrangement) {
  const worn = [...new Set(threads)].sort((a, b) => a - b);
  const sight = all.sights.find((s) => s.id === state.seen);
  return "hung " + writeArrangement(threads, " ") + " (" + worn.map((c) => letter(c) + " " + colourName(c)).join(", ") + ")" + (sight ? ", as seen " + sight.words : "");
}

// Fills the list of kinds of colour vision, and handles its changes.
function listSights(select, changed) {
  select.append(make("option", { value: "", text: "everybody" }));
  for (const s of all.sights) select.append(make("option", { value: s.id, text: s.words }));
  select.addEventListener("change", () => { state.seen = select.value; changed(); });
}
