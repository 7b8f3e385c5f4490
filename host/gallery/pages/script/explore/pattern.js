// The kind of pattern that is seen, and how clear it is, as in `compare::pattern`
// of the program's source. Bounds come from the program.

const sumOf = (values) => { let sum = 0; for (const value of values) sum += value; return sum; };
const STRIPES = ["columns", "rows", "diagonals-left", "diagonals-right"];

// The standard deviation and the skewness of values.
function momentsOf(values) {
  const mean = sumOf(values) / values.length;
  let squares = 0, cubes = 0;
  for (const value of values) {
    const by = value - mean;
    squares += by * by;
    cubes += by * by * by;
  }
  const deviation = Math.sqrt(squares / values.length);
  return { deviation, skewness: deviation > 0 ? cubes / values.length / (deviation * deviation * deviation) : 0 };
}

// Each colour, relative to the mean of all places, and how much thread there is of
// each wave.
function coloursOf(inks, spectrum) {
  const places = inks[0].length;
  const whole = Array.from(inks[0], (_, at) => inks.reduce((sum, ink) => sum + ink[at], 0)), mean = sumOf(whole) / places;
  const spectra = inks.map((ink) => spectrum(ink.map((value) => value / mean)));
  const thread = spectra[0].map((_, k) => [0, 1].map((part) => spectra.reduce((sum, of) => sum + of[k][part], 0)));
  const colours = inks.map((ink, colour) => {
    const share = sumOf(ink) / places / mean;
    let variance = 0;
    for (let at = 0; at < places; at++) variance += ((ink[at] - share * whole[at]) / mean) ** 2;
    const differs = spectra[colour].map(([a, b], k) => [a - share * thread[k][0], b - share * thread[k][1]]);
    return { share, ink: spectra[colour], differs, variance: variance / places };
  });
  return { colours, thread };
}

// What is measured of the colours; nothing, if there is no difference between places.
function sightOf({ area, inks }) {
  const waves = wavesOf(area), { colours, thread } = coloursOf(inks, spectrumIn(area, waves));
  const [near, middle, far] = all.bounds.blends.map((blend) => leftOf(waves, blend));
  const makes = [...colours.keys()].filter((k) => colours[k].share >= 1e-9 && colours[k].share <= all.bounds.commonest);
  const sum = (of) => sumOf(makes.map(of)), weights = colours.map(({ ink }) => powerOf(ink, near));
  const pure = sum((k) => colours[k].share * (1 - colours[k].share)), weight = sum((k) => weights[k]);
  if (weight <= 1e-12 || pure <= 0) return null;
  const directions = (left) => {
    const powers = [0, 0, 0, 0];
    for (const colour of makes) waves.forEach(({ direction }, k) => { powers[direction] += 2 * alongside(colours[colour].ink[k], colours[colour].ink[k]) * left[k]; });
    return powers;
  };
  const part = (powers) => powers.map((power) => power / Math.max(sumOf(powers), 1e-300));
  const mean = (of) => sum((k) => weights[k] * of(k)) / weight;
  const blended = directions(middle), shares = sharesOf(inks), moments = inks.map(momentsOf);
  const swings = colours.map(({ differs }) => swingsOf(waves, differs, near));
  return {
    purity: Math.min(mean((k) => momentsOf(shares[k]).deviation / Math.sqrt(colours[k].share * (1 - colours[k].share))), 1),
    standsOut: Math.sqrt(sum((k) => powerOf(colours[k].differs, near)) / Math.max(powerOf(thread, near) * sum((k) => colours[k].share ** 2), 1e-12)),
    dense: Math.max(0, ...makes.map((k) => correlationOf(colours[k].differs, thread, near))),
    strongest: Math.sqrt(sumOf(blended) / pure) * Math.max(...part(blended)),
    skewness: mean((k) => moments[k].skewness),
    coarse: Math.sqrt(sumOf(colours.map(({ differs }) => powerOf(differs, far))) / Math.max(sumOf(colours.map(({ variance }) => variance)), 1e-12)),
    near: part(directions(near)),
    far: part(directions(far)),
    swings: { places: mean((k) => swings[k].places), strength: mean((k) => swings[k].strength), share: mean((k) => swings[k].share) },
  };
}

// Stripes that slant without a mirror image, that go straight down as seen from farther
// away, or that stand out among all others.
function findStripes([down, across, left, right], near, far) {
  const { lone, slant: least, upright, stronger } = all.bounds;
  const [slant, other, direction] = left > right ? [left, right, 2] : [right, left, 3];
  if (slant >= lone * other && slant >= least * Math.max(down, across)) return [STRIPES[direction], near[direction]];
  if (far[0] >= upright) return [STRIPES[0], near[0]];
  const shares = [down, across, left, right], [first, second] = [0, 1, 2, 3].sort((a, b) => shares[b] - shares[a]);
  // Down and across, and the two slants.
  const mirrors = Math.floor(first / 2) === Math.floor(second / 2);
  return shares[first] >= stronger[mirrors ? 1 : 0] * shares[second] ? [STRIPES[first], near[first]] : null;
}

// Stripes down the lace that slant to one side, then to the other.
function findZigzags([down, across, left, right], near) {
  const slant = Math.max(left, right), other = Math.min(left, right), [least, alike, level] = all.bounds.zigzags;
  return down >= least * slant && other >= alike * slant && across < level * other ? ["zigzags", 1 - near[1]] : null;
}

// The kind of pattern, and the share of all differences that it accounts for.
function kindOf({ standsOut, dense, strongest, skewness, coarse, near, far, swings }) {
  const { bounds } = all, most = Math.max(...near);
  if (dense >= bounds.dense && most < bounds.striped) return ["spots", 1];
  if (strongest * standsOut < bounds.faint) return ["even-mix", 0];
  if (swings.share >= bounds.swinging && swings.places >= Math.max(bounds.swings, bounds.steady * swings.strength)) return ["zigzags", swings.share];
  const large = coarse >= bounds.coarse, looked = large ? far : near;
  if (large && skewness >= bounds.skewed && most < bounds.striped) return ["spots", 1];
  const [first, second] = [...near].sort((a, b) => b - a);
  const [kind, share] = findStripes(looked, near, far) || findZigzags(looked, near) || ["checks", first + second];
  // Threads hang straight down themselves: fine columns are lost among them.
  return kind === "columns" && coarse < bounds.columns ? ["even-mix", 0] : [kind, share];
}

// What is seen of a repeat when these colours hang on its threads.
function seePattern(softened, hung) {
  if (hung.every((colour) => colour === hung[0])) return { kind: "plain", clearness: 0 };
  const own = softened.row.length, length = hung.length * own / greatestDivisor(hung.length, own);
  const sight = sightOf(inksOf(softened, Array.from({ length }, (_, k) => hung[k % hung.length])));
  if (!sight) return { kind: "even-mix", clearness: 0 };
  const [kind, share] = kindOf(sight);
  return { kind, clearness: Math.min(Math.max(share * sight.purity, 0), 1) };
}

// What is seen on the cards in the colours that hang now. Returns what computes it
// where it is not known, and calls `then` when it is known after a change; all
// waits until the page is painted.
function followPatterns(cards, then) {
  let hung = "", waiting = 0;
  function see() {
    const now = writeArrangement(state.arrangement, "");
    for (const card of cards) {
      if (!card.softened || card.seenIn === now) continue;
      card.seen = seePattern(card.softened, state.arrangement);
      card.seenIn = now;
    }
    hung = now;
  }
  const seeLater = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => { see(); then(); }, 0);
  };
  all.softened = Promise.all(cards.map(async (card) => {
    card.softened = unpackSoftened(card.variety.softened, await inflate(card.variety.softened.places));
  })).then(seeLater);
  return { see, changed: () => { if (hung !== writeArrangement(state.arrangement, "")) seeLater(); } };
}

const patternWords = ({ kind, clearness }) => {
  const { words } = all.patterns.find((pattern) => pattern.id === kind);
  return kind === "plain" || kind === "even-mix" ? words : words + ", " + Math.round(100 * clearness) + " % clear";
};
