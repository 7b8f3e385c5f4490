// Colours: their values, how they look to the colour-blind, and in words.

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

// The colours of all threads of one arrangement, as they are seen; if one pair
// is followed, all others are grey.
function threadColours(follow) {
  const period = 2 * all.pairs;
  const seen = state.colours.map((hex) => sees(parts(hex), state.seen));
  const grey = sees(parts(all.grey), state.seen);
  const colours = [0, 1, 2].map(() => new Int32Array(period));
  for (let k = 0; k < period; k++) {
    const rgb = follow && k >> 1 !== follow - 1 ? grey : seen[state.arrangement[k % state.arrangement.length]];
    for (let c = 0; c < 3; c++) colours[c][k] = rgb[c];
  }
  return colours;
}

const colourName = (c) => state.colours[c] === all.colours[c].rgb ? all.colours[c].name : state.colours[c];

// The arrangement of colours, in words.
function hungInWords() {
  const worn = [...new Set(state.arrangement)].sort((a, b) => a - b);
  const sight = all.sights.find((s) => s.id === state.seen);
  return "hung " + writeArrangement(state.arrangement, " ") + " (" + worn.map((c) => letter(c) + " " + colourName(c)).join(", ") + ")" + (sight ? ", as seen " + sight.words : "");
}

// Fills the list of kinds of colour vision, and handles its changes.
function listSights(select, changed) {
  select.append(make("option", { value: "", text: "everybody" }));
  for (const s of all.sights) select.append(make("option", { value: s.id, text: s.words }));
  select.addEventListener("change", () => { state.seen = select.value; changed(); });
}
